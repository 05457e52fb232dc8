"""Naming: every chord of the quality table that given notes can be.

Chords and notes are compared as sets of pitch classes, bits of one number each; what is spelled is
spelled afterwards, for each chord anew.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator
from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE, STEPS_IN_OCTAVE, Interval
from gripwright.theory.note import LETTERS, Note
from gripwright.theory.pitch import Pitch
from gripwright.theory.quality import QUALITIES, Quality
from gripwright.theory.symbol import MOST_ACCIDENTALS

_ALL: Final = (1 << SEMITONES_IN_OCTAVE) - 1
_ROOT: Final = 1 << Degree("1").pitch_class
_ROOT_AND_FIFTH: Final = _ROOT | 1 << Degree("5").pitch_class
_OCTAVE: Final = Interval(STEPS_IN_OCTAVE, SEMITONES_IN_OCTAVE)
_LITERAL: Final = "(literal)"
# Where two roots spell a chord equally well, the one that stands first here is written.
_ROOTS: Final = tuple(
    Note.parse(name)
    for name in "C Db D Eb E F F# G Ab A Bb B C# D# Gb G# A# Cb E# Fb B#".split()  # noqa: SIM905 - reads better
)
_NATURALS: Final = frozenset(Note(letter).pitch_class for letter in LETTERS)
# How an interval is called where no spelling tells; beyond the octave, the same and an octave.
_PLAIN: Final = tuple(
    Interval.parse(name)
    for name in ("P1", "m2", "M2", "m3", "M3", "P4", "d5", "P5", "m6", "M6", "m7", "M7")
)


@attrs.frozen
class ChordName:
    """One name of some notes: a chord whose tones contain them all.

    Args:
        chord: The chord; its bass is the lowest note, where that is known, is not the root, and
            the root sounds or the bass was stated.
        degrees: What each note becomes, in the order given.
        left_out: Degrees of the chord that do not sound, neither as a note nor as a stated bass.
        rooted: Whether the root sounds.

    Example:
        >>> name = name_notes([Note.parse(text) for text in ("Ab", "Cb", "Eb", "F")])[0]
        >>> name.symbol, name.degrees, name.left_out, name.rooted
        ('Abm6', ('1', 'b3', '5', '6'), (), True)
    """

    chord: Chord
    degrees: tuple[Degree, ...]
    left_out: tuple[Degree, ...]
    rooted: bool

    @property
    def symbol(self) -> str:
        """The canonical symbol of the chord."""
        return self.chord.symbol

    @property
    def notes(self) -> tuple[Note, ...]:
        """The notes in the order given, spelled for this chord.

        Example:
            >>> names = name_notes([Note.parse(text) for text in ("Ab", "Cb", "Eb", "F")])
            >>> name = next(name for name in names if name.symbol == "G7b9b13")
            >>> [str(note) for note in name.notes], name.left_out
            (['Ab', 'B', 'Eb', 'F'], ('1', '5'))
        """
        return tuple(self.chord.root + degree.interval for degree in self.degrees)

    @property
    def essential_left_out(self) -> tuple[Degree, ...]:
        """Those of the degrees left out without which the ear does not hear the chord.

        The degrees of every essential group of which none sounds.

        Example:
            >>> names = name_notes([Note.parse(text) for text in ("C", "E", "G")])
            >>> next(name for name in names if name.symbol == "Cmaj9").essential_left_out
            ('7', '9')
        """
        absent = set(self.left_out)
        wanted = {tone for group in self.chord.essential if absent >= set(group) for tone in group}
        return tuple(tone for tone in self.left_out if tone in wanted)


def name_notes(
    notes: Iterable[Note | Pitch], *, bass: Note | None = None, spelled: bool = True
) -> tuple[ChordName, ...]:
    """Every chord of `QUALITIES`, on every root, whose tones contain all of the notes.

    The best name comes first, by the first of these that tells two names apart: nothing left out;
    fewer essential groups left out; not a literal stack of thirds; the root in the bass; the root
    sounding, or nothing but root and fifth left out; the quality that `QUALITIES` prefers; fewer
    tones left out; fewer accidentals; the root nearest above the bass. (The order is ours.)

    Each chord is named on the root that spells it best: never with triple accidentals where
    another root avoids them; with the notes as they are written, where a root does that; on a
    natural where there is one; with the fewest flats and sharps.

    Args:
        notes: Notes, or pitches, of which the lowest is the bass. Notes without octaves leave the
            bass open: no slash is written, and names on the first note are preferred.
        bass: The bass where it is stated, such as the note of a bass player. It sounds below the
            notes, can be the root that they lack, and need not be a tone of the chord: ``C/D``.
        spelled: Whether the spelling of the notes is meant; False for notes read off a neck.
            That of a stated bass always is.

    Returns:
        The names in a total order, one for each quality and root; none where the notes fit into
        no chord.

    Raises:
        ConditionError: There are no notes, or the bass carries more than three flats or sharps.

    Example:
        >>> grip = [Pitch.parse(text) for text in ("E3", "B3", "D4", "G4")]
        >>> [name.symbol for name in name_notes(grip)[:4]]
        ['Em7', 'G6/E', 'Cmaj9', 'A11']
        >>> name_notes(grip, bass=Note.parse("C"))[0].symbol
        'Cmaj9'
    """
    heard = _Heard.of(tuple(notes), bass, spelled=spelled)
    found = [fit for root in range(SEMITONES_IN_OCTAVE) for fit in _fits_on(root, heard)]
    ranked = sorted((fit.rank(), place) for place, fit in enumerate(found))
    return tuple(found[place].name() for _, place in ranked)


def intervals_above_bass(
    notes: Iterable[Note | Pitch], *, bass: Note | None = None, spelled: bool = True
) -> tuple[Interval, ...]:
    """The intervals from the lowest note to every other: what can be said of any notes.

    Args:
        notes: Notes, of which the first counts as the lowest, or pitches.
        bass: The lowest note where it is stated; the intervals are then within an octave.
        spelled: Whether the spelling of the notes is meant; without it a tritone is a ``d5``.

    Returns:
        Each interval once, narrow ones first; none to a note of the lowest one's pitch class.

    Raises:
        ConditionError: There are no notes.

    Example:
        >>> notes = [Note.parse(text) for text in ("C", "Db", "D", "F#")]
        >>> " ".join(map(str, intervals_above_bass(notes)))
        'm2 M2 A4'
    """
    given = _some(tuple(notes))
    pitches = [note for note in given if isinstance(note, Pitch)]
    if bass is None and len(pitches) == len(given):
        lowest = min(pitches, key=lambda pitch: pitch.midi)
        found = {pitch - lowest for pitch in pitches}
    else:
        low = _note(given[0]) if bass is None else bass
        found = {_note(note) - low for note in given}
    heard = {interval for interval in found if interval.semitones % SEMITONES_IN_OCTAVE}
    # From C up to Cb is a diminished octave: a note that is no pitch lies above the lowest.
    heard = {interval if interval.semitones > 0 else interval + _OCTAVE for interval in heard}
    if not spelled:
        heard = {_plain(interval.semitones) for interval in heard}
    return tuple(sorted(heard, key=lambda interval: (interval.semitones, interval.steps)))


@attrs.frozen(eq=False)
class _Tones:
    """A quality of the table as bits, of which bit n is n semitones above the root."""

    place: int
    quality: Quality
    degrees: tuple[tuple[Degree, int], ...]
    mask: int
    groups: tuple[int, ...]
    names: tuple[Degree | None, ...]
    literal: bool

    @classmethod
    def of(cls, place: int, quality: Quality) -> _Tones:
        names: list[Degree | None] = [None] * SEMITONES_IN_OCTAVE
        # Of two degrees that sound alike the first listed names the tone.
        for degree in reversed(quality.degrees):
            names[degree.pitch_class] = degree
        return cls(
            place=place,
            quality=quality,
            degrees=tuple((degree, 1 << degree.pitch_class) for degree in quality.degrees),
            mask=_bits(degree.pitch_class for degree in quality.degrees),
            groups=tuple(
                _bits(degree.pitch_class for degree in group) for group in quality.essential
            ),
            names=tuple(names),
            literal=quality.name.endswith(_LITERAL),
        )


@attrs.frozen(eq=False)
class _Heard:
    """What sounds: the notes and the bass, as bits, of which bit n is pitch class n."""

    classes: tuple[int, ...]
    notes: int
    sounding: int
    written: tuple[Note, ...]
    """Spellings to agree with."""
    lowest: int
    """Pitch class of the bass, or of the first note where the bass is open."""
    bass_is_open: bool
    stated: Note | None

    @classmethod
    def of(cls, given: tuple[Note | Pitch, ...], bass: Note | None, *, spelled: bool) -> _Heard:
        own = [_note(note) for note in _some(given)]
        classes = tuple(note.pitch_class for note in own)
        mask = _bits(classes)
        written = dict.fromkeys(own if spelled else ())
        lowest, bass_is_open = classes[0], False
        if bass is not None:
            written[bass] = None
            lowest = bass.pitch_class
        else:
            pitches = [note for note in given if isinstance(note, Pitch)]
            if len(pitches) == len(given):
                lowest = min(pitch.midi for pitch in pitches) % SEMITONES_IN_OCTAVE
            else:
                bass_is_open = True
        return cls(
            classes=classes,
            notes=mask,
            sounding=mask | 1 << lowest,
            written=tuple(written),
            lowest=lowest,
            bass_is_open=bass_is_open,
            stated=bass,
        )


@attrs.frozen(eq=False)
class _Fit:
    """A chord that contains what is heard: a quality on a root, spelled."""

    tones: _Tones
    heard: _Heard
    root: Note
    above_bass: int
    """Semitones from the bass up to the root."""
    accidentals: int
    """Flats and sharps of all tones of the chord."""
    sounding: int
    """Bits of the tones that sound, above the root."""

    @property
    def left_out(self) -> int:
        """Bits of the tones that do not sound."""
        return self.tones.mask & ~self.sounding

    @property
    def rooted(self) -> bool:
        """Whether the root sounds."""
        return bool(self.sounding & _ROOT)

    def rank(self) -> tuple[int, ...]:
        """Small for a good name: the order that `name_notes` documents."""
        left_out = self.left_out
        return (
            left_out != 0,
            sum(not group & self.sounding for group in self.tones.groups),
            self.tones.literal,
            self.above_bass != 0,
            not self.rooted and left_out & ~_ROOT_AND_FIFTH != 0,
            self.tones.place,
            left_out.bit_count(),
            self.accidentals,
            self.above_bass,
        )

    def name(self) -> ChordName:
        """The name in full."""
        left_out, root = self.left_out, self.heard.lowest + self.above_bass
        names = [
            self.tones.names[(sounding - root) % SEMITONES_IN_OCTAVE]
            for sounding in self.heard.classes
        ]
        return ChordName(
            chord=Chord(self.root, self.tones.quality, self._bass()),
            # None is missing, since every note is a tone of the chord.
            degrees=tuple([name for name in names if name is not None]),
            left_out=tuple([degree for degree, bit in self.tones.degrees if left_out & bit]),
            rooted=self.rooted,
        )

    def _bass(self) -> Note | None:
        """The note after the slash, if there is one."""
        if self.above_bass == 0 or self.heard.bass_is_open:
            return None
        if self.heard.stated is None and not self.rooted:
            return None
        degree = self.tones.names[-self.above_bass]
        return self.heard.stated if degree is None else self.root + degree.interval


def _fits_on(root: int, heard: _Heard) -> Iterator[_Fit]:
    """The chords on the roots of one pitch class, each on the root that spells it best."""
    notes, sounding = _turned(heard.notes, root), _turned(heard.sounding, root)
    # Of more than two accidentals none is chosen: on one of `_roots` each quality has fewer.
    own = (note for note in heard.written if note.pitch_class == root)
    roots = dict.fromkeys((*_roots(root), *own))
    candidates = [(note, note.step, note.alteration) for note in roots]
    written = [
        ((note.pitch_class - root) % SEMITONES_IN_OCTAVE, note.step) for note in heard.written
    ]
    for tones in _table():
        if notes & ~tones.mask:
            continue
        steps = [
            step - degree.steps
            for above, step in written
            if (degree := tones.names[above]) is not None
        ]
        ranked = []
        for place, (_, step, alteration) in enumerate(candidates):
            most, accidentals = _accidentals(tones.place, step, alteration)
            other = sum([(step - meant) % STEPS_IN_OCTAVE != 0 for meant in steps])
            # B#dim7 is no name for Cdim7, whose accidentals are more, unless it was so written.
            odd = alteration != 0 and root in _NATURALS
            ranked.append((most >= MOST_ACCIDENTALS, other > 0, odd, accidentals, other, place))
        best = min(ranked)
        yield _Fit(
            tones=tones,
            heard=heard,
            root=candidates[best[-1]][0],
            above_bass=(root - heard.lowest) % SEMITONES_IN_OCTAVE,
            accidentals=best[3],
            sounding=sounding & tones.mask,
        )


@functools.cache
def _table() -> tuple[_Tones, ...]:
    return tuple(_Tones.of(place, quality) for place, quality in enumerate(QUALITIES.values()))


@functools.cache
def _roots(pitch_class: int) -> tuple[Note, ...]:
    return tuple(root for root in _ROOTS if root.pitch_class == pitch_class)


@functools.cache
def _accidentals(place: int, step: int, alteration: int) -> tuple[int, int]:
    """The most flats or sharps of one tone of a quality on a root, and those of all tones."""
    root = Note(LETTERS[step], alteration)
    counts = [
        abs((root + degree.interval).alteration) for degree in _table()[place].quality.degrees
    ]
    return max(counts), sum(counts)


def _bits(places: Iterable[int]) -> int:
    return functools.reduce(lambda mask, place: mask | 1 << place, places, 0)


def _turned(mask: int, down: int) -> int:
    """The bits of pitch classes as bits above a root."""
    return (mask >> down | mask << (SEMITONES_IN_OCTAVE - down)) & _ALL


def _note(note: Note | Pitch) -> Note:
    return note.note if isinstance(note, Pitch) else note


def _plain(semitones: int) -> Interval:
    octaves, rest = divmod(semitones, SEMITONES_IN_OCTAVE)
    return Interval(_PLAIN[rest].steps + octaves * STEPS_IN_OCTAVE, semitones)


def _some(notes: tuple[Note | Pitch, ...]) -> tuple[Note | Pitch, ...]:
    if not notes:
        raise ConditionError(name="notes", value=notes, expected="one note or more")
    return notes
