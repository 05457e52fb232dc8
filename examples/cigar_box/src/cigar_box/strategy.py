"""The voicing strategy."""

from collections.abc import Iterator

import attrs

from gripwright import Chord, Recipe


@attrs.frozen
class OctavePower:
    """Root, fifth and octave of a power chord: what an open G sounds under one finger."""

    name: str = "octave-power"
    summary: str = "root, fifth and octave of a power chord"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Give one stack for a chord without a third, and none for any other."""
        if set(chord.degrees) == {"1", "5"}:
            yield Recipe(("1", "5", "1"))
