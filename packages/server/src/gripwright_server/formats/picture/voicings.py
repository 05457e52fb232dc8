"""The picture of voicings: a sheet of neck diagrams to be handed out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright.neck.diagram import sheet_svg
from gripwright.neck.fingering import fingering_of
from gripwright_server.operations.player import hand_of, played

if TYPE_CHECKING:
    from gripwright import Voicing
    from gripwright.neck.fingering import Fingering
    from gripwright_server.operations.voicings import VoicingsRequest, VoicingsResult


def picture(request: VoicingsRequest, result: VoicingsResult) -> str:
    """The sheet of the voicings shown, fingered by the hand of the request.

    Args:
        request: Says how the sheet looks.
        result: The voicings.
    """
    hand = hand_of(request)

    def fingering(voicing: Voicing) -> Fingering:
        return fingering_of(voicing.frets, voicing.instrument, hand)

    strategy = "" if request.strategy == "any" else f", {request.strategy}"
    return sheet_svg(
        result.shown,
        title=f"{result.chord.symbol}{strategy}",
        note=f"{_counted(result)} on {played(result.instrument)}",
        label=request.label,
        left_handed=request.left_handed,
        theme=request.theme,
        keyboard=request.keyboard,
        fingering=fingering,
    )


def _counted(result: VoicingsResult) -> str:
    noun = "voicing" if result.count == 1 else "voicings"
    if result.returned == result.count:
        return f"{result.count:,} {noun}"
    return f"The first {result.returned:,} of {result.count:,} {noun}"
