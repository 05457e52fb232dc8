"""Questioning: whether a grip says what its symbol says, and what else it could be."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.neck.instrument import Instrument
from gripwright.neck.shape import MUTED
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.naming import ChordName, name_notes
from gripwright.theory.note import Note
from gripwright.theory.pitch import Pitch
from gripwright.theory.quality import Groups
from gripwright.vocabulary.words import listed

_NAMES_OFFERED: Final = 5
_LITERAL: Final = "(literal)"


@attrs.frozen
class Question:
    """What speaks against a grip for a symbol.

    Args:
        voicing: The grip, as it was entered for the chord.
        foreign: Tones that are neither of the chord nor among its tensions, lowest first.
        missing: Essential groups of the chord of which no tone sounds.
        wrong_bass: The lowest note where the symbol's slash asks for another, or None.
        could_be: What the grip could be instead, best first, five names at most.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> doubtful = question(grip_for(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 3, 5, -1)))
        >>> [str(note) for note in doubtful.foreign]
        ['Bb']
    """

    voicing: Voicing
    foreign: tuple[Note, ...]
    missing: Groups
    wrong_bass: Note | None
    could_be: tuple[ChordName, ...]

    @property
    def sentence(self) -> str:
        """The question as a reader sees it.

        Example:
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
            >>> grip = grip_for(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 3, 5, -1))
            >>> print(question(grip).sentence.partition("; ")[0])
            x-3-5-3-5-x is not Cmaj7: the 7 (B) does not sound, Bb is no tone of it
            >>> print(question(grip).sentence.partition("; ")[2])
            could be C7, F#7b9#11, F#7b5b9 or F#7alt
        """
        chord = self.voicing.chord
        faults = [_silent(group, chord) for group in self.missing]
        if self.foreign:
            tones = listed(list(map(str, self.foreign)))
            verb = "are no tones" if len(self.foreign) > 1 else "is no tone"
            faults.append(f"{tones} {verb} of it")
        if self.wrong_bass is not None:
            faults.append(f"the lowest note is {self.wrong_bass} and not {chord.bass}")
        names = [name.symbol for name in self.could_be]
        hint = f"could be {listed(names, 'or')}" if names else "no chord of the table has its tones"
        return f"{self.voicing.shape} is not {chord}: {', '.join(faults)}; {hint}"


def grip_for(chord: Chord, instrument: Instrument, frets: tuple[int, ...]) -> Voicing:
    """A grip as a player enters it for a chord, whatever it sounds.

    Tones that the symbol does not have are named as it names tensions.

    Args:
        chord: The chord.
        instrument: The instrument.
        frets: Muted -1, open 0 or a fret for each string, from the bass side.

    Raises:
        ConditionError: Not one fret for each string, one that the string does not have, or no
            string that sounds.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip_for(Chord.parse("Dm7"), guitar, (-1, 5, 3, 5, 5, -1)).degrees
        ('1', 'b3', 'b7', '9')
    """
    instrument.check_frets(frets)
    if max(frets) == MUTED:
        raise ConditionError(name="frets", value=frets, expected="a string that sounds")
    return Voicing(chord, instrument, frets, chord.chromatic_names)


def question(voicing: Voicing) -> Question | None:
    """What speaks against a grip for its chord; nothing where it expresses it.

    A grip expresses a chord where a tone of each essential group sounds, every other tone is
    the chord's or one of its tensions, and the lowest note is the one after the slash, if
    there is one.

    Args:
        voicing: A grip, as `grip_for` makes it.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> question(grip_for(Chord.parse("Dm9"), guitar, (-1, 5, 3, 5, 5, -1)))
        >>> wrong = question(grip_for(Chord.parse("D7"), guitar, (-1, 5, 3, 5, 5, -1)))
        >>> [name.symbol for name in wrong.could_be][0]
        'Dm9'
    """
    chord = voicing.chord
    sounding = {degree.pitch_class for degree in voicing.degrees}
    missing = tuple(
        group for group in chord.essential if not sounding & {tone.pitch_class for tone in group}
    )
    admitted = {degree.pitch_class for degree in (*_own(chord), *chord.tensions)}
    foreign = dict.fromkeys(
        chord.root + degree.interval
        for degree in voicing.degrees
        if degree.pitch_class not in admitted
    )
    low = chord.root + voicing.bass_degree.interval
    off = chord.bass is not None and chord.bass.pitch_class != low.pitch_class
    if not missing and not foreign and not off:
        return None
    return Question(
        voicing=voicing,
        foreign=tuple(foreign),
        missing=missing,
        wrong_bass=low if off else None,
        could_be=tuple(_whole(voicing))[:_NAMES_OFFERED],
    )


def serves(voicing: Voicing) -> tuple[Voicing, ...]:
    """The same grip for every chord that it expresses, its own first, then best first.

    A name counts where each essential group sounds; literal stacks of thirds do not. A slash
    that only tells the inversion is left out, for the grip shows it.

    Args:
        voicing: The grip.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grip = grip_for(Chord.parse("Am7"), guitar, (-1, -1, 7, 9, 8, 8))
        >>> [str(other.chord) for other in serves(grip)]
        ['Am7', 'C6', 'Fmaj9', 'D11', 'D9sus4']
    """
    own = () if question(voicing) is not None else (voicing,)
    heard = {_sound(voicing.chord)}
    others = []
    for name in _whole(voicing):
        chord = name.chord if name.chord.foreign_bass else attrs.evolve(name.chord, bass=None)
        if _sound(chord) not in heard:
            heard.add(_sound(chord))
            others.append(grip_for(chord, voicing.instrument, voicing.frets))
    return (*own, *others)


def _whole(voicing: Voicing) -> Iterator[ChordName]:
    """The names of a grip in which every essential group sounds, best first."""
    pitches = [
        Pitch.from_midi(midi, flats=voicing.chord.root.alteration < 0) for midi in voicing.midi
    ]
    for name in name_notes(pitches, spelled=False):
        literal = name.chord.quality.name.endswith(_LITERAL)
        if not name.essential_left_out and not literal:
            yield name


def _own(chord: Chord) -> tuple[Degree, ...]:
    """The chord's degrees, a foreign bass among them."""
    return tuple(degree for degree in chord.names if degree is not None)


def _sound(chord: Chord) -> tuple[int, str, int | None]:
    bass = chord.bass.pitch_class if chord.bass is not None and chord.foreign_bass else None
    return chord.root.pitch_class, chord.quality.name, bass


def _silent(group: tuple[Degree, ...], chord: Chord) -> str:
    tones = [f"the {degree} ({chord.root + degree.interval})" for degree in group]
    if len(tones) == 1:
        return f"{tones[0]} does not sound"
    return f"neither {listed(tones, 'nor')} sounds"
