"""The picture of lines: a sheet of their grips in the order in which they are played."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright.neck.diagram import sheet_svg
from gripwright.neck.fingering import fingering_of
from gripwright_server.operations.player import hand_of, played

if TYPE_CHECKING:
    from gripwright import Voicing
    from gripwright.neck.fingering import Fingering
    from gripwright_server.operations.lead import LeadRequest, LeadResult


def picture(request: LeadRequest, result: LeadResult) -> str:
    """The sheet of the grips, each under its symbol, fingered by the hand of the request.

    Args:
        request: Says how the sheet looks.
        result: The lines, whose grips stand one line after the other.
    """
    hand = hand_of(request)

    def fingering(voicing: Voicing) -> Fingering:
        return fingering_of(voicing.frets, voicing.instrument, hand)

    return sheet_svg(
        [step.voicing for line in result.lines for step in line.steps],
        title=result.source.title or "Line",
        note=_note(result),
        label=request.label,
        left_handed=request.left_handed,
        theme=request.theme,
        keyboard=request.keyboard,
        fingering=fingering,
    )


def _note(result: LeadResult) -> str:
    count = len(result.lines)
    lines = "One line" if count == 1 else f"{count} lines, one after the other,"
    return f"{lines} on {played(result.instrument)}"
