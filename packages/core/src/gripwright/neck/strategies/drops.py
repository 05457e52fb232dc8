"""Four-note families: the six orders of four tones (common practice).

In close position each tone lies at the next place above the one before. To drop a voice is to
move it down an octave, counted from the top: with its inversions, each family is one order of
the four tones, from the lowest.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import attrs

from gripwright.neck.recipe import Recipe
from gripwright.neck.strategies.selection import rotations, selections
from gripwright.theory.chord import Chord

VOICES: Final = 4

ORDERS: Final = {
    "close": (0, 1, 2, 3),
    "drop-2": (0, 2, 3, 1),
    "drop-3": (0, 3, 1, 2),
    "drop-2-4": (0, 2, 1, 3),
    "drop-2-3": (0, 1, 3, 2),
    "double-drop": (0, 3, 2, 1),
}
"""For each family the four tones from the lowest up, counted in close order from the lowest."""


@attrs.frozen
class Drop:
    """A family of four-note voicings, one order of the tones in all inversions.

    Args:
        name: A name of `ORDERS`.
        summary: One sentence for players.

    Example:
        >>> drop = Drop("drop-2", "The second voice from the top an octave lower")
        >>> [recipe.degrees for recipe in drop.recipes(Chord.parse("Cmaj7"))][0]
        ('1', '5', '7', '3')
    """

    name: str
    summary: str

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Each choice of four tones in each inversion; a close triad has three."""
        sizes = (VOICES,)
        tones = {degree.pitch_class for degree in chord.degrees}
        if self.name == "close" and len(tones) == VOICES - 1:
            sizes = (VOICES - 1,)
        for choice in (choice for size in sizes for choice in selections(chord, size)):
            for rotated in rotations(choice):
                order = ORDERS[self.name] if len(choice) == VOICES else range(len(choice))
                yield Recipe(tuple(rotated[index] for index in order))


DROPS: Final = (
    Drop("close", "All tones within an octave, each at the next place above"),
    Drop("drop-2", "Close position with the second voice from the top an octave lower"),
    Drop("drop-3", "Close position with the third voice from the top an octave lower"),
    Drop("drop-2-4", "Close position with the second and fourth voices an octave lower"),
    Drop("drop-2-3", "Close position with the second and third voices an octave lower"),
    Drop("double-drop", "Close position with the second voice two octaves lower, the third one"),
)
