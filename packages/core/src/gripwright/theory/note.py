"""Notes: a letter and its alteration, without an octave."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

import attrs

from gripwright.errors import ConditionError, NotationError
from gripwright.theory.interval import (
    SEMITONES_IN_OCTAVE,
    STEPS_IN_OCTAVE,
    Interval,
    natural_semitones,
)

LETTERS: Final = "CDEFGAB"

_NATURALS: Final = {letter: natural_semitones(step) for step, letter in enumerate(LETTERS)}

_SIGNS: Final = {"b": "b", "#": "#", "♭": "b", "♯": "#", "𝄫": "bb", "𝄪": "##"}
_LETTER: Final = re.compile(r"([A-G])(♮|[b♭𝄫]+|[#♯𝄪]+|)")


@attrs.frozen(order=False)
class Note:
    """A spelled note: C sharp and D flat are different notes that sound the same.

    Args:
        letter: One of ``A`` to ``G``.
        alteration: Semitones up (sharps, positive) or down (flats, negative).

    Raises:
        ConditionError: The letter is none of ``A`` to ``G``.

    Example:
        >>> Note.parse("B♭")
        Note(letter='B', alteration=-1)
        >>> str(Note("F", 2))
        'F##'
    """

    letter: str = attrs.field()
    alteration: int = attrs.field(default=0, validator=attrs.validators.instance_of(int))

    @letter.validator
    def _check_letter(self, _attribute: object, value: str) -> None:
        if len(value) != 1 or value not in LETTERS:
            raise ConditionError(name="letter", value=value, expected="a letter from A to G")

    @classmethod
    def parse(cls, text: str) -> Note:
        """Read a note in ASCII or Unicode: ``"Bb"``, ``"B♭"``, ``"F##"``, ``"F𝄪"``.

        Raises:
            NotationError: The text is no note.

        Example:
            >>> Note.parse("F𝄪") == Note.parse("F##")
            True
        """
        note, end = cls.read(text, what="note")
        if end != len(text):
            raise NotationError(
                what="note", text=text, position=end, expected="flats, sharps or the end"
            )
        return note

    @classmethod
    def read(
        cls, text: str, *, what: str, whole: Callable[[str], object] | None = None
    ) -> tuple[Note, int]:
        """Read the note at the start of a text.

        Args:
            text: A text that starts with a note.
            what: What the whole text is, for the error.
            whole: Reads the whole text, so that what the error offers can be read; that of notes
                if not given.

        Returns:
            The note and the index of the first character after it.

        Raises:
            NotationError: The text does not start with a letter from A to G.

        Example:
            >>> Note.read("Eb2", what="pitch")
            (Note(letter='E', alteration=-1), 2)
        """
        match = _LETTER.match(text)
        if match is None:
            raise NotationError(
                what=what,
                text=text,
                position=0,
                expected="a letter from A to G",
                nearest=_capitalised(text, whole or cls.parse),
            )
        signs = "".join(_SIGNS.get(sign, "") for sign in match[2])
        shift = len(signs) if signs.startswith("#") else -len(signs)
        return cls(match[1], shift), match.end()

    def __str__(self) -> str:
        return self.letter + ("#" * self.alteration or "b" * -self.alteration)

    @property
    def unicode(self) -> str:
        """The note with Unicode accidentals, for readers.

        Example:
            >>> Note("B", -2).unicode
            'B𝄫'
        """
        doubles, singles = divmod(abs(self.alteration), 2)
        single, double = ("♯", "𝄪") if self.alteration > 0 else ("♭", "𝄫")
        return self.letter + single * singles + double * doubles

    @property
    def step(self) -> int:
        """Diatonic place of the letter above C, 0 to 6."""
        return LETTERS.index(self.letter)

    @property
    def semitones(self) -> int:
        """Semitones above the C below the letter; below 0 or above 11 for Cb or B#."""
        return _NATURALS[self.letter] + self.alteration

    @property
    def pitch_class(self) -> int:
        """Semitones above C within the octave, 0 to 11.

        Example:
            >>> Note.parse("Cb").pitch_class
            11
        """
        return self.semitones % SEMITONES_IN_OCTAVE

    def __add__(self, interval: Interval) -> Note:
        if not isinstance(interval, Interval):
            return NotImplemented
        steps = self.step + interval.steps
        semitones = self.semitones + interval.semitones
        return Note(LETTERS[steps % STEPS_IN_OCTAVE], semitones - natural_semitones(steps))

    def __sub__(self, other: Note) -> Interval:
        """The interval up from `other`, with 0 to 6 steps."""
        if not isinstance(other, Note):
            return NotImplemented
        octaves = int(self.step < other.step)
        return Interval(
            self.step - other.step + octaves * STEPS_IN_OCTAVE,
            self.semitones - other.semitones + octaves * SEMITONES_IN_OCTAVE,
        )


def _capitalised(text: str, read: Callable[[str], object]) -> str | None:
    """The text with a capital at its start, where it can be read so."""
    near = text[:1].upper() + text[1:]
    if near == text:
        return None
    try:
        read(near)
    except NotationError:
        return None
    return near
