"""Neck diagrams as SVG documents."""

from __future__ import annotations

import math

from gripwright.errors import ConditionError
from gripwright.neck.diagram.neck import Look, neck_picture
from gripwright.neck.diagram.palette import THEMES
from gripwright.neck.fingering import Fingering
from gripwright.neck.voicing import Voicing


def neck_svg(
    voicing: Voicing,
    *,
    label: str = "degree",
    left_handed: bool = False,
    theme: str = "light",
    title: str | None = None,
    width: float | None = None,
    fingering: Fingering | None = None,
    keyboard: bool = False,
) -> str:
    """Draw a voicing on the neck, as an SVG document.

    The symbol stands above, the pitches below; where dots do not carry the degrees, these stand
    below as well. Under the nut, or from the first fret that is pressed, four frets or as many as
    the voicing spans. A string that starts up the neck is drawn from there.

    Args:
        voicing: The voicing.
        label: What the dots carry: ``degree``, ``note``, ``finger``, ``interval`` or ``none``.
        left_handed: Mirror the neck for a left-handed player.
        theme: The colours: ``light``, ``dark`` or ``print``, the last in black on white.
        title: What stands above; the chord symbol where it is None, nothing where it is empty.
        width: Width at which it is shown in px; one and a half px a unit where it is None.
        fingering: The fingers, whose barres are drawn; those of the usual hand where it is None.
        keyboard: Draw the same tones on a piano keyboard beside the neck.

    Returns:
        The document (SVG 1.1), in ASCII; equal arguments give equal text.

    Raises:
        UnknownNameError: There is no such label or theme.
        ConditionError: Fingers are asked for and no hand has enough of them, or the width is not
            above zero.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345.0)
        >>> text = neck_svg(find_voicings(Chord.parse("C"), ukulele)[0], theme="print", width=120)
        >>> text.startswith('<svg xmlns="http://www.w3.org/2000/svg" width="120"')
        True
    """
    look = Look(label=label, left_handed=left_handed, theme=THEMES[theme], keyboard=keyboard)
    if width is not None and not 0 < width < math.inf:
        raise ConditionError(name="width", value=width, expected="more than 0 px")
    picture = neck_picture(voicing, look, title=title, fingering=fingering)
    return picture.svg(page=look.theme.page, width=width)
