"""The strategy that puts no recipe."""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from gripwright.neck.recipe import Recipe
from gripwright.theory.chord import Chord


@attrs.frozen
class Whole:
    """Every voicing, in whatever order its tones are stacked.

    Example:
        >>> [recipe.degrees for recipe in Whole().recipes(Chord.parse("C"))]
        [()]
    """

    name: str = "any"
    summary: str = "Every playable voicing, in any order of tones"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:  # noqa: ARG002 - asks nothing
        """One recipe that asks for no order."""
        yield Recipe(())
