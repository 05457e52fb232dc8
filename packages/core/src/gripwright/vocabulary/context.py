"""The context of a grip: the chord before it and the chord after it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

import attrs
import numpy as np

from gripwright.errors import ConditionError
from gripwright.leading.motion import motion_matrix
from gripwright.neck.hand import Hand
from gripwright.neck.ranking import near
from gripwright.neck.search import find_voicings
from gripwright.neck.table import VoicingTable
from gripwright.neck.teaching import teaching_weight
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.quality import QUALITIES
from gripwright.vocabulary.entry import Facts
from gripwright.vocabulary.placing import fits_hand, middle_fret, moved, usual_root

_USUAL: Final[tuple[tuple[str, tuple[int, str], tuple[int, str]], ...]] = (
    # kinds of chord; the chord before: semitones above the root, and its kind; the chord after
    ("maj7 maj9 maj13 6 6/9 maj7#11 maj9#11 add9", (7, "7"), (9, "m7")),
    ("m7 m9 m11 m13 m7(11)", (10, "maj7"), (5, "7")),
    ("7 9 13 7#11 9#11 13#11 11", (7, "m7"), (5, "maj7")),
    ("7alt 7b9 7#9 7b13 7#5 7b5 13b9 7b9b13 7#9b13 9#5", (7, "m7b5"), (5, "m6")),
    ("m7b5 m9b5 m11b5", (10, "m6"), (5, "7b9")),
    ("m6 m6/9 m(maj7) m(maj9)", (7, "7b9"), (2, "m7b5")),
    ("dim7 dim", (11, "maj7"), (1, "m7")),
    ("7sus4 9sus4 13sus4 7sus4b9", (7, "m7"), (0, "7")),
    ("m m(add9)", (7, "7"), (5, "m")),
    ("aug", (0, ""), (5, "")),
    ("sus4 sus2", (5, ""), (0, "")),
)
_NEIGHBOURS: Final = {
    name: (before, after) for names, before, after in _USUAL for name in names.split()
}
_NEIGHBOURS_OF_OTHERS: Final = ((7, "7"), (5, ""))
_STRANGER: Final = 6
_TEACHING_A_SEMITONE: Final = 8.0


@attrs.frozen
class Context:
    """A grip between the chord before and the chord after.

    Args:
        before: A grip of the chord before.
        grip: The grip.
        after: A grip of the chord after.
        in_tune: Whether the chords are those of the tune at hand.
        known: Whether the grips before and after are of the vocabulary.

    Example:
        >>> from gripwright import Chord, Instrument, Shape
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> named = (("Dm7", "x-5-7-5-6-x"), ("G7", "x-x-5-7-6-7"), ("Cmaj7", "x-3-5-4-5-x"))
        >>> grips = [Voicing(Chord.parse(c), guitar, Shape.parse(s).frets) for c, s in named]
        >>> context = Context(*grips, in_tune=True, known=(True, True))
        >>> [str(grip.chord) for grip in context.grips]
        ['Dm7', 'G7', 'Cmaj7']
    """

    before: Voicing
    grip: Voicing
    after: Voicing
    in_tune: bool
    known: tuple[bool, bool]

    @property
    def grips(self) -> tuple[Voicing, Voicing, Voicing]:
        """The three in the order of playing."""
        return self.before, self.grip, self.after


def context_of(
    grip: Voicing, *, facts: Iterable[Facts], hand: Hand, tune: Sequence[Chord] = ()
) -> Context:
    """Put a grip between its neighbours.

    Where the tune at hand has the chord, its neighbours are the tune's, which is played round
    and round. Else they are those
    among which such a chord usually stands: II before V, V before I, and so on (common
    practice). Each is held by the known grip that moves least; else by a voicing that is
    near and that a teacher would show early.

    Args:
        grip: The grip.
        facts: The known grips of its instrument.
        hand: The hand.
        tune: The chords of the tune at hand, in order.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = Voicing(Chord.parse("Dm7"), guitar, (-1, 5, 7, 5, 6, -1))
        >>> around = context_of(grip, facts=(), hand=Hand())
        >>> [f"{one.chord} {one.shape}" for one in around.grips]
        ['Cmaj7 x-3-5-4-5-x', 'Dm7 x-5-7-5-6-x', 'G7 x-5-5-4-6-x']
    """
    place = next((place for place, chord in enumerate(tune) if _same(chord, grip.chord)), None)
    before, after = _usual_neighbours(grip.chord)
    if place is not None:
        round_again = [*tune[place + 1 :], *tune[:place]]
        others = [chord for chord in round_again if not _same(chord, grip.chord)]
        before, after = (others[-1], others[0]) if others else (before, after)
    known = tuple(facts)
    first, first_known = neighbour(before, grip, known, hand)
    last, last_known = neighbour(after, grip, known, hand)
    return Context(first, grip, last, place is not None, (first_known, last_known))


def neighbour(
    chord: Chord, grip: Voicing, facts: Iterable[Facts], hand: Hand
) -> tuple[Voicing, bool]:
    """The grip of a chord that moves least to or from another.

    Args:
        chord: The chord.
        grip: The other grip.
        facts: The known grips of its instrument, which come first.
        hand: The hand.

    Returns:
        The grip, and whether it is known.

    Raises:
        ConditionError: The instrument has no playable voicing of the chord at all.
    """
    known = [fact for fact in facts if fact.category == chord.quality.name]
    if chord.bass is None:
        for _, fact, shift in sorted(
            _distances(known, chord, grip), key=lambda way: (way[0], way[1].frets, way[2])
        ):
            place = moved(fact.voicing(grip.instrument), shift, chord.root)
            if place is not None and fits_hand(place, hand):
                return place, True
    narrow = {"strings": grip.string_set, "no_open": 0 not in grip.frets}
    ways: tuple[dict[str, Any], ...] = (
        {**narrow, "no_doubles": True},
        {**narrow, "min_tones": 1},
        {},
    )
    for asked in ways:
        table = find_voicings(chord, grip.instrument, hand, **asked)
        if len(table):
            return table[_first(table, grip)], False
    raise ConditionError(
        name="chord", value=str(chord), expected="a chord that the instrument can play"
    )


def _first(table: VoicingTable, grip: Voicing) -> int:
    """The row that is near and that a teacher would show early."""
    later = near(grip).keys(table)[0] + teaching_weight(table) / _TEACHING_A_SEMITONE
    return int(np.round(later, 6).argmin())


def _distances(
    known: Sequence[Facts], chord: Chord, grip: Voicing
) -> Iterator[tuple[float, Facts, int]]:
    """How far the places of known grips on a root lie from a grip, and their shifts.

    Voices move by semitones, an octave's half for each that enters or leaves; each fret that the
    hand travels counts as one more.
    """
    instrument = grip.instrument
    by_voices: dict[int, list[tuple[list[int], float, Facts, int]]] = {}
    for fact in known:
        root = Chord.parse(fact.symbol).root
        up = (chord.root.pitch_class - root.pitch_class) % SEMITONES_IN_OCTAVE
        sounding = [(string, fret) for string, fret in enumerate(fact.frets) if fret >= 0]
        midi = sorted(instrument.sounding(string, fret) for string, fret in sounding)
        fretted = [fret for _, fret in sounding if fret > 0] or [0]
        middle = (min(fretted) + max(fretted)) / 2
        shifts = range(up - SEMITONES_IN_OCTAVE, instrument.frets, SEMITONES_IN_OCTAVE)
        for shift in shifts if fact.movable else range(up, 1):
            if (
                min(fretted) + shift >= min(1, *fretted)
                and max(fretted) + shift <= instrument.frets
            ):
                row = ([one + shift for one in midi], middle + shift, fact, shift)
                by_voices.setdefault(len(midi), []).append(row)
    here = np.array([sorted(grip.midi)], np.int16)
    for rows in by_voices.values():
        pitches = np.array([midi for midi, *_ in rows], np.int16)
        motion = motion_matrix(here, pitches, stranger=_STRANGER)[0].tolist()
        for semitones, (_, middle, fact, shift) in zip(motion, rows, strict=True):
            yield semitones + abs(middle - middle_fret(grip)), fact, shift


def _same(chord: Chord, other: Chord) -> bool:
    return (
        chord.root.pitch_class == other.root.pitch_class
        and chord.quality == other.quality
        and chord.foreign_bass == other.foreign_bass
    )


def _usual_neighbours(chord: Chord) -> tuple[Chord, Chord]:
    before, after = _NEIGHBOURS.get(chord.quality.name, _NEIGHBOURS_OF_OTHERS)
    return _above(chord, *before), _above(chord, *after)


def _above(chord: Chord, semitones: int, name: str) -> Chord:
    tone = (chord.root.pitch_class + semitones) % SEMITONES_IN_OCTAVE
    quality = QUALITIES[name]
    return Chord(usual_root(quality, tone), quality)


def kinds_in(chords: Iterable[Chord]) -> tuple[str, ...]:
    """The categories of a tune's chords, in order, once each."""
    return tuple(dict.fromkeys(chord.quality.name for chord in chords if not chord.foreign_bass))
