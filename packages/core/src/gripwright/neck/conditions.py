"""Conditions that a search puts on voicings, beside the chord and the hand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Final, Literal

import attrs

from gripwright.errors import ConditionError, NotationError
from gripwright.neck.instrument import MOST_FRETS, MOST_STRINGS
from gripwright.theory.degree import Degree
from gripwright.theory.note import Note
from gripwright.theory.pitch import Pitch

Stroke = Literal["any", "strum", "pluck"]
RootPolicy = Literal["optional", "required", "none"]

STROKES: Final = ("any", "strum", "pluck")
_HIGHEST_DEGREE: Final = 15
ROOT_POLICIES: Final = ("optional", "required", "none")
DEFAULT_ROW_BOUND: Final = 5_000_000


def _one_of(*choices: object) -> Callable[[Any, Any, Any], None]:
    def check(_instance: object, attribute: attrs.Attribute[Any], value: object) -> None:
        if value not in choices:
            raise ConditionError(
                name=attribute.name, value=value, expected=" or ".join(map(str, choices))
            )

    return check


def _between(lowest: int, highest: int) -> Callable[[Any, Any, Any], None]:
    def check(_instance: object, attribute: attrs.Attribute[Any], value: object) -> None:
        if value is None:
            return
        whole = isinstance(value, int) and not isinstance(value, bool)
        if not whole or not lowest <= value <= highest:  # type: ignore[operator]
            raise ConditionError(
                name=attribute.name, value=value, expected=f"a whole number, {lowest} to {highest}"
            )

    return check


def _string_set(value: Iterable[int] | None) -> tuple[int, ...] | None:
    if value is None:
        return None
    try:
        return tuple(sorted(value, reverse=True))
    except TypeError:
        raise ConditionError(
            name="strings", value=value, expected="string numbers, such as (5, 4, 3, 2)"
        ) from None


def _note_or_pitch(value: Note | Pitch | str | None) -> Note | Pitch | None:
    if not isinstance(value, str):
        return value
    try:
        return Note.parse(value)
    except NotationError:
        return Pitch.parse(value)


def _degree(value: str | None) -> Degree | None:
    return None if value is None else Degree(value)


@attrs.frozen(kw_only=True)
class Conditions:
    """What voicings must satisfy beside being playable voicings of the chord.

    Args:
        stroke: The right hand. ``strum`` allows a muted string between sounding ones only where
            a neighbouring string is fretted, whose finger damps it; ``pluck`` allows at most
            `pluck_fingers` sounding strings; ``any`` neither.
        pluck_fingers: Fingers that pluck, 4 or 5.
        min_notes: Sounding strings at least; by default 3, or the number of tones of the chord
            or recipe if that is less.
        max_notes: Sounding strings at most.
        min_tones: Different tones at least; the default is that of `min_notes`.
        root: Whether the root must sound, may, or must not.
        lowest_fret: Lowest fret of fretted strings; open strings are free.
        highest_fret: Highest fret of fretted strings.
        strings: Exactly these strings sound, numbered as players do, 1 on the treble side.
        no_open: No open string sounds.
        no_inner_mutes: No muted string between sounding ones.
        no_doubles: No tone sounds twice.
        bass_degree: The degree of the lowest sounding pitch.
        top_note: The highest sounding note, in any octave or as a pitch in one.
        top_degree: The degree of the highest sounding pitch.
        as_written: Nothing added to the symbol, and every essential group of it.
        row_bound: Rows above which the search refuses.

    Raises:
        ConditionError: A value outside its range.
        NotationError: A degree or note that cannot be read.

    Example:
        >>> Conditions(strings=(2, 3, 4, 5)).strings
        (5, 4, 3, 2)
    """

    stroke: Stroke = attrs.field(default="any", validator=_one_of(*STROKES))
    pluck_fingers: int = attrs.field(default=4, validator=_one_of(4, 5))
    min_notes: int | None = attrs.field(default=None, validator=_between(1, MOST_STRINGS))
    max_notes: int | None = attrs.field(default=None, validator=_between(1, MOST_STRINGS))
    min_tones: int | None = attrs.field(default=None, validator=_between(1, 12))
    root: RootPolicy = attrs.field(default="optional", validator=_one_of(*ROOT_POLICIES))
    lowest_fret: int | None = attrs.field(default=None, validator=_between(0, MOST_FRETS))
    highest_fret: int | None = attrs.field(default=None, validator=_between(0, MOST_FRETS))
    strings: tuple[int, ...] | None = attrs.field(default=None, converter=_string_set)
    no_open: bool = False
    no_inner_mutes: bool = False
    no_doubles: bool = False
    bass_degree: Degree | None = attrs.field(default=None, converter=_degree)
    top_note: Note | Pitch | None = attrs.field(default=None, converter=_note_or_pitch)
    top_degree: Degree | None = attrs.field(default=None, converter=_degree)
    as_written: bool = False
    row_bound: int = attrs.field(default=DEFAULT_ROW_BOUND, validator=_between(1, 1_000_000_000))

    @bass_degree.validator
    @top_degree.validator
    def _check_degree(self, attribute: attrs.Attribute[Any], value: Degree | None) -> None:
        if value is not None and value.number > _HIGHEST_DEGREE:
            raise ConditionError(
                name=attribute.name, value=str(value), expected="a degree such as b3, 5 or #11"
            )

    @strings.validator
    def _check_strings(self, _attribute: object, value: tuple[int, ...] | None) -> None:
        if value is None:
            return
        if (
            not value
            or len(set(value)) < len(value)
            or not all(isinstance(string, int) and 1 <= string <= MOST_STRINGS for string in value)
        ):
            raise ConditionError(
                name="strings",
                value=value,
                expected=f"different string numbers, 1 (treble side) to {MOST_STRINGS}",
            )

    @property
    def most_notes(self) -> int:
        """Sounding strings at most, by `max_notes` and by the fingers that pluck."""
        most = MOST_STRINGS if self.max_notes is None else self.max_notes
        return min(most, self.pluck_fingers) if self.stroke == "pluck" else most
