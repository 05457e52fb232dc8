"""Cautions: what a plan says about the hands and ears, and when to rest.

Not medical advice. Playing-related problems are common among guitarists, the wrist most of all,
and not warming up goes with injury (doi:10.3233/wor-230701); the lengths are our own proposals.
"""

from __future__ import annotations

from typing import Final

LONGEST_STRETCH: Final = 25
"""Minutes of playing after which a break comes."""

BREAK: Final = 5
"""Minutes of a break in a long session."""

SHORT_BREAK: Final = 1
"""Minutes of the break in a session that is no longer than one stretch."""

WARM_UP_CAUTION: Final = "Warm up first: easy shapes, little pressure, slow changes."

CAUTIONS: Final = (
    "Stop on pain, numbness, tingling or weakness; never play through them.",
    "A wide grip low on the neck is not repeated over and over: learn it higher up first.",
    "Keep clicks and backing at a level that is safe for the ears.",
    "This is no medical advice: with any complaint, ask a licensed clinician.",
)
"""What every plan says."""

WIDE_MM: Final = 90.0
"""Reach above which a grip is called a stretch."""


def stretch_caution(reach_mm: float) -> str | None:
    """What to say of a grip that is a stretch; nothing of any other.

    Args:
        reach_mm: Its reach along the neck, in mm.

    Example:
        >>> stretch_caution(97.0)
        'A stretch of 97 mm: a few tries at a time, and higher up the neck first.'
        >>> stretch_caution(60.0)
    """
    if reach_mm <= WIDE_MM:
        return None
    return f"A stretch of {reach_mm:.0f} mm: a few tries at a time, and higher up the neck first."
