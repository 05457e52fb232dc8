"""The library's own voicing strategies.

Each is a short generator of recipes over a chord's degrees; none knows the neck.
"""

from typing import Final

from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.strategies.colours import COLOURS
from gripwright.neck.strategies.drops import DROPS
from gripwright.neck.strategies.frames import FRAMES

BUILTIN_STRATEGIES: Final[tuple[VoicingStrategy, ...]] = tuple(
    sorted((*DROPS, *FRAMES, *COLOURS), key=lambda strategy: strategy.name)
)
"""Every strategy that the core brings, by name."""

__all__ = ["BUILTIN_STRATEGIES"]
