"""The melody of a lead sheet: its notes with their exact places."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Final

import attrs

from gripwright.theory.pitch import Pitch

TOP_STAFF: Final = "1"


@attrs.frozen
class MelodyNote:
    """A note of the melody as it is written.

    Args:
        pitch: The pitch as it sounds.
        bar: The index of the written bar in which it starts.
        onset: Quarters from the start of that bar.
        duration: Quarters that it lasts, with all notes tied to it; it may go on beyond the bar.

    Example:
        >>> MelodyNote(Pitch.parse("C5"), 0, Fraction(1, 2), Fraction(3)).pitch.midi
        72
    """

    pitch: Pitch
    bar: int
    onset: Fraction
    duration: Fraction


@attrs.frozen
class SourceNote:
    """A note as a file has it.

    Args:
        pitch: The pitch as it sounds.
        bar: The index of its bar.
        onset: Quarters from the start of the bar.
        duration: Quarters that it lasts.
        voice: The number of its voice, as text.
        staff: The number of its staff, as text.
        tied_from: Whether a tie from the note before ends at it.
        tied_on: Whether a tie starts at it.
    """

    pitch: Pitch
    bar: int
    onset: Fraction
    duration: Fraction
    voice: str
    staff: str
    tied_from: bool
    tied_on: bool


def melody_of(notes: Sequence[SourceNote], starts: Sequence[Fraction]) -> tuple[MelodyNote, ...]:
    """The melody among the notes of a part: the first voice of its top staff, its highest notes.

    Args:
        notes: The notes of a part.
        starts: Where each bar starts, in quarters from the start of the first, as written.

    Returns:
        Notes in the order of their onsets, tied ones as one.

    Example:
        >>> c5 = Pitch.parse("C5")
        >>> tied = [
        ...     SourceNote(c5, 0, Fraction(3), Fraction(1), "1", "1", False, True),
        ...     SourceNote(c5, 1, Fraction(0), Fraction(2), "1", "1", True, False),
        ... ]
        >>> [str(note.duration) for note in melody_of(tied, [Fraction(0), Fraction(4)])]
        ['3']
    """
    top = [note for note in notes if note.staff == TOP_STAFF]
    if not top:
        return ()
    voice = top[0].voice
    melody: list[MelodyNote] = []
    # The note of each pitch from which a tie leads on, and where it must go on.
    open_ties: dict[Pitch, tuple[int, Fraction]] = {}
    for note in _highest(note for note in top if note.voice == voice):
        start = starts[note.bar] + note.onset
        place, end = open_ties.pop(note.pitch, (-1, start))
        if note.tied_from and place >= 0 and end == start:
            longer = melody[place].duration + note.duration
            melody[place] = attrs.evolve(melody[place], duration=longer)
        else:
            place = len(melody)
            melody.append(MelodyNote(note.pitch, note.bar, note.onset, note.duration))
        if note.tied_on:
            open_ties[note.pitch] = place, start + note.duration
    return tuple(melody)


def _highest(notes: Iterable[SourceNote]) -> Iterable[SourceNote]:
    highest: dict[tuple[int, Fraction], SourceNote] = {}
    for note in notes:
        place = note.bar, note.onset
        if place not in highest or note.pitch.midi > highest[place].pitch.midi:
            highest[place] = note
    return [highest[place] for place in sorted(highest)]
