"""The ladder of practice in a metre, rung by rung, as an operation."""

from collections.abc import Iterator
from typing import Any, ClassVar, Final

import attrs

from gripwright.meter import Meter
from gripwright_rhythm.ladder import RUNGS, Part, Rung, rung, rungs_in
from gripwright_server.operations.operation import Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.picture import PAPERS, THEMES


@attrs.frozen(kw_only=True)
class LadderRequest:
    """A metre, and a rung where one alone is wanted."""

    heading: ClassVar[str] = "Which rungs, and how they are drawn"

    meter: str = option(help="the metre, such as 4/4, 6/8 or 3+2/4", default="4/4", form="METRE")
    rung: int | None = option(help="one rung alone", default=None, ge=1, le=len(RUNGS))
    seed: int = option(help="chooses where a rhythm is random", default=0, ge=0)
    paper: str = option(help="the paper of a sheet", default=PAPERS[0], choices=PAPERS)
    theme: str = option(
        help="colours of a sheet; print is black on white", default=THEMES[2], choices=THEMES
    )


@attrs.frozen(kw_only=True)
class LadderRow:
    """A row: one drill of a rung.

    Args:
        rung: The number of the rung.
        part: Which of its drills, counted from 1.
        rung_sentence: What the rung is for.
        sentence: What the player does.
        click: Which beats click.
        pattern: The pattern as text; None where the player chooses.
        bars: Bars that the pattern lasts; None where there is none.
    """

    rung: int
    part: int
    rung_sentence: str
    sentence: str
    click: str
    pattern: str | None
    bars: int | None


@attrs.frozen
class LadderResult:
    """Rungs with their drills.

    Args:
        meter: The metre.
        rungs: The rungs that make sense in it, each with its drills.
        left_out: The numbers of those that do not.
    """

    meter: Meter
    rungs: tuple[tuple[Rung, tuple[Part, ...]], ...]
    left_out: tuple[int, ...]

    @property
    def count(self) -> int:
        """Drills of all rungs."""
        return sum(len(parts) for _, parts in self.rungs)

    @property
    def returned(self) -> int:
        """Drills that `rows` yields: all."""
        return self.count

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    @property
    def facts(self) -> dict[str, Any]:
        """The metre, and the rungs that make no sense in it."""
        return {"meter": str(self.meter), "left_out": self.left_out}

    def rows(self) -> Iterator[LadderRow]:
        """One row a drill, from the first rung up."""
        for one, parts in self.rungs:
            for number, part in enumerate(parts, 1):
                yield LadderRow(
                    rung=one.number,
                    part=number,
                    rung_sentence=one.sentence,
                    sentence=part.sentence,
                    click=str(part.click),
                    pattern=None if part.pattern is None else str(part.pattern),
                    bars=None if part.pattern is None else part.pattern.bars,
                )


def ladder(request: LadderRequest, registry: RegistrySource) -> LadderResult:
    """Give the ladder of practice in a metre.

    Args:
        request: The metre, and a rung where one alone is wanted.
        registry: Never asked.

    Raises:
        NotationError: The metre cannot be read.
        ConditionError: The rung makes no sense in the metre.
    """
    del registry
    meter = Meter.parse(request.meter)
    if request.rung is not None:
        one = rung(request.rung)
        return LadderResult(meter, ((one, one.parts(meter, seed=request.seed)),), ())
    known = rungs_in(meter)
    return LadderResult(
        meter,
        tuple((one, one.parts(meter, seed=request.seed)) for one in known),
        tuple(one.number for one in RUNGS if one not in known),
    )


LADDER: Final = Operation(
    name="ladder",
    summary="Show the ladder of practice, rung by rung",
    collection="drills",
    request=LadderRequest,
    function=ladder,
    result=LadderResult,
    row=LadderRow,
    formats=("json", "ndjson", "svg", "pdf"),
)
"""The ladder as an operation."""
