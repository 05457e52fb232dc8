"""The rhythm of a request: a rung of the ladder, a pattern by its name, or one of its own."""

import re
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.meter import Meter, RhythmPattern
from gripwright.named import nearest_names
from gripwright_rhythm.click import Click
from gripwright_rhythm.ladder import RUNGS, Part, rung
from gripwright_server.operations.option import option

if TYPE_CHECKING:
    from gripwright.meter import RhythmFamily
    from gripwright.plugins import Registry

_OWN: Final = re.compile(r"\s*[0-9|]")
"""What the text of a pattern begins with, and no name does."""


@attrs.frozen(kw_only=True, slots=False)
class RhythmOptions:
    """What is played when, and what clicks."""

    heading: ClassVar[str] = "The rhythm"

    rung: int | None = option(
        help="a rung of the ladder, with its click; the command ladder shows them, and without a"
        " pattern it is the first",
        default=None,
        ge=1,
        le=len(RUNGS),
    )
    part: int = option(help="which drill of the rung, in their order", default=1, ge=1, le=99)
    pattern: str | None = option(
        help="a rhythm pattern by its name, as the command rhythms shows them, or its own text,"
        ' such as "1:1.5 2.5\'"',
        default=None,
        form="NAME|TEXT",
    )
    click: str | None = option(
        help='which beats click: all, off, beats such as "2 4" or "2.5 4.5", backbeat,'
        " every-other, 2-on-2-off or after-count-in; left out, as the rung says, else all",
        default=None,
        form="CLICK",
    )


@attrs.frozen
class ChosenRhythm:
    """A rhythm and its click.

    Args:
        pattern: The pattern; None where the player chooses, or the chart prescribes.
        click: Which beats click.
        sentence: What the player does, where a rung says it; else empty.
    """

    pattern: RhythmPattern | None
    click: Click
    sentence: str = ""


def rhythm_of(
    request: RhythmOptions, meter: Meter, registry: "Registry", seed: int
) -> ChosenRhythm:
    """The rhythm of a request in a metre.

    Args:
        request: Names a rung or a pattern; neither is the first rung.
        meter: The metre of the tune.
        registry: Gives the rhythm families.
        seed: For families that choose at random.

    Raises:
        ConditionError: A rung beside a pattern; or one that is not for this metre.
        NotationError: The text of a pattern or of a click cannot be read.
        UnknownNameError: No pattern has that name.
    """
    if request.rung is not None and request.pattern is not None:
        raise ConditionError(name="pattern", value=request.pattern, expected="none beside a rung")
    if request.pattern is not None and request.part != 1:
        raise ConditionError(name="part", value=request.part, expected="1 beside a pattern")
    click = None if request.click is None else Click.parse(request.click)
    if request.pattern is not None:
        return ChosenRhythm(_pattern(request.pattern, meter, registry, seed), click or Click())
    part = _part(request, request.rung or 1, meter, seed)
    # The sentence of a part says its click too, which the request may replace.
    return ChosenRhythm(part.pattern, click or part.click, part.rhythm)


def _part(request: RhythmOptions, number: int, meter: Meter, seed: int) -> Part:
    try:
        parts = rung(number).parts(meter, seed=seed)
    except ConditionError as error:
        raise ConditionError(
            name="rung", value=f"{number} in {meter}", expected=error.expected
        ) from error
    if request.part > len(parts):
        numbers = "1" if len(parts) == 1 else f"1 to {len(parts)}"
        raise ConditionError(
            name="part",
            value=request.part,
            expected=f"{numbers}: rung {number} has no more in {meter}",
        )
    return parts[request.part - 1]


def _pattern(text: str, meter: Meter, registry: "Registry", seed: int) -> RhythmPattern:
    if _OWN.match(text):
        return RhythmPattern.parse(text, meter)
    patterns = {
        pattern.name: pattern
        for family in registry.rhythm_families.values()
        for pattern in patterns_of(family, meter, seed)
    }
    if text in patterns:
        return patterns[text]
    elsewhere = _metres_of(text, registry, seed)
    if elsewhere:
        raise ConditionError(
            name="pattern",
            value=text,
            expected=f"a pattern in {meter}: this one is for {', '.join(elsewhere)}",
        )
    raise UnknownNameError(
        kind="rhythm pattern",
        name=text,
        nearest=nearest_names(text, patterns),
        hint=f"the command rhythms shows those in {meter}",
    )


def patterns_of(family: "RhythmFamily", meter: Meter, seed: int) -> tuple[RhythmPattern, ...]:
    """The patterns of a family in a metre; none where it does not know the metre."""
    return tuple(family.patterns(meter, seed=seed)) if meter in family.meters else ()


def _metres_of(name: str, registry: "Registry", seed: int) -> list[str]:
    """The metres in which a pattern of that name stands."""
    found: dict[str, None] = {}
    for family in registry.rhythm_families.values():
        for meter in family.meters:
            if any(pattern.name == name for pattern in family.patterns(meter, seed=seed)):
                found[str(meter)] = None
    return list(found)
