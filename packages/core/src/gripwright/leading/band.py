"""Who else plays, and what that leaves to the guitar (our own proposals, from common practice)."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.neck.conditions import RootPolicy
from gripwright.theory.pitch import Pitch


@attrs.frozen
class Band:
    """What the other players leave to the accompanist.

    Args:
        name: The word by which it is asked for.
        summary: One sentence for players.
        roots: Root policies in the order in which they are tried for a chord.
        root_lowest: Whether grips with the root lowest are tried before the others, save under a
            slash bass.
        lowest: The lowest pitch that leaves room for the others, or None.
        min_notes: Sounding strings at least, or None for the search's own default.
        max_notes: Sounding strings at most, or None.

    Example:
        >>> BANDS["bass"].roots
        ('none', 'optional')
    """

    name: str
    summary: str
    roots: tuple[RootPolicy, ...]
    root_lowest: bool = False
    lowest: Pitch | None = None
    min_notes: int | None = None
    max_notes: int | None = None


BANDS: Final = {
    band.name: band
    for band in (
        Band(
            "solo",
            "Nobody else plays: the root below, full grips",
            ("required", "optional"),
            root_lowest=True,
        ),
        Band(
            "bass",
            "A bass plays the roots: three or four notes above it",
            ("none", "optional"),
            lowest=Pitch.parse("C3"),
            min_notes=3,
            max_notes=4,
        ),
        Band(
            "piano",
            "A piano fills the middle: two or three notes, high up",
            ("none", "optional"),
            lowest=Pitch.parse("E3"),
            min_notes=2,
            max_notes=3,
        ),
        Band(
            "singer",
            "A singer alone in front: the root below, three to five notes",
            ("required", "optional"),
            root_lowest=True,
            min_notes=3,
            max_notes=5,
        ),
    )
}
"""Every band by its word."""
