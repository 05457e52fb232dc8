"""The rungs of the ladder, in their order."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Final

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright_rhythm.ladder.rung import Drill, Rung


def _read() -> tuple[Rung, ...]:
    text = files("gripwright_rhythm.ladder").joinpath("ladder.toml").read_text(encoding="utf-8")
    found: list[Rung] = []
    for row in tomllib.loads(text)["rung"]:
        one = Rung(
            number=row["number"],
            sentence=row["sentence"],
            drills=tuple(Drill(**drill) for drill in row.get("drills", ())),
            lengths=tuple(row.get("lengths", ())),
            clicks=tuple(row.get("clicks", ("all",))),
            repeats=tuple(found[number - 1] for number in row.get("repeats", ())),
        )
        found.append(one)
    return tuple(found)


RUNGS: Final = _read()
"""The rungs, from the first up."""


def rung(number: int) -> Rung:
    """A rung by its number.

    Raises:
        ConditionError: There is no such rung; says how many there are.

    Example:
        >>> rung(2).sentence
        'Play beat 1 and let it go exactly on the beat that follows.'
    """
    if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= len(RUNGS):
        raise ConditionError(name="rung", value=number, expected=f"1 to {len(RUNGS)}")
    return RUNGS[number - 1]


def rungs_in(meter: Meter) -> tuple[Rung, ...]:
    """The rungs that make sense in a metre.

    Example:
        >>> [one.number for one in rungs_in(Meter(1, 4))][:7]
        [1, 2, 3, 4, 17, 22, 23]
    """
    return tuple(one for one in RUNGS if one.fits(meter))
