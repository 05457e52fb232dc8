"""The place on the ladder of practice that a player has reached."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.errors import ConditionError

_SLOWEST_BPM: Final = 2
_FASTEST_BPM: Final = 800


@attrs.frozen
class LadderPlace:
    """Where a player stands on the ladder, kept from day to day.

    What the rungs are is not known here.

    Args:
        rung: The number of the rung, from 1.
        part: Which of its drills, in their order, from 1.
        tempo_bpm: The tempo in beats a minute, 2 to 800.

    Raises:
        ConditionError: A number outside its range.

    Example:
        >>> LadderPlace(rung=12, tempo_bpm=72).part
        1
    """

    rung: int = attrs.field(default=1)
    part: int = attrs.field(default=1)
    tempo_bpm: float = attrs.field(default=60.0)

    @rung.validator
    @part.validator
    def _check_number(self, attribute: attrs.Attribute[int], value: object) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or value < 1:
            raise ConditionError(name=attribute.name, value=value, expected="1 or more")

    @tempo_bpm.validator
    def _check_tempo(self, _attribute: object, value: object) -> None:
        number = isinstance(value, (int, float)) and not isinstance(value, bool)
        if not number or not _SLOWEST_BPM <= value <= _FASTEST_BPM:  # type: ignore[operator]
            expected = f"{_SLOWEST_BPM} to {_FASTEST_BPM} beats a minute"
            raise ConditionError(name="tempo", value=value, expected=expected)
