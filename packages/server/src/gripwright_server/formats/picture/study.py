"""The picture of a study: a sheet of its voicings in order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright.neck.diagram import sheet_svg
from gripwright.neck.fingering import fingering_of
from gripwright_server.operations.player import hand_of, played

if TYPE_CHECKING:
    from gripwright import Voicing
    from gripwright.neck.fingering import Fingering
    from gripwright_server.operations.study import StudyRequest, StudyResult


def picture(request: StudyRequest, result: StudyResult) -> str:
    """The sheet of the voicings, fingered by the hand of the request.

    Args:
        request: Says how the sheet looks.
        result: The study.
    """
    hand = hand_of(request)

    def fingering(voicing: Voicing) -> Fingering:
        return fingering_of(voicing.frets, voicing.instrument, hand)

    return sheet_svg(
        result.study.voicings,
        title=f"{result.chord.symbol}, by top notes",
        note=f"{' '.join(map(str, result.study.top_line))} on {played(result.instrument)}",
        label=request.label,
        left_handed=request.left_handed,
        theme=request.theme,
        keyboard=request.keyboard,
        fingering=fingering,
    )
