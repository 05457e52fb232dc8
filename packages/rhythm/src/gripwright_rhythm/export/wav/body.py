"""The body of the instrument: which frequencies it carries well."""

from __future__ import annotations

from collections.abc import Iterable

import attrs
import numpy as np
from numpy.typing import NDArray


def _resonances(values: Iterable[Resonance]) -> tuple[Resonance, ...]:
    return tuple(values)


@attrs.frozen
class Resonance:
    """One resonance of a body.

    Args:
        hz: Its frequency in hertz.
        quality: How narrow it is: its frequency over its width at half power.
        gain: How much it adds at its frequency, where 1 is what goes through in any case.
    """

    hz: float
    quality: float
    gain: float


@attrs.frozen
class Body:
    """What a body makes of the partials of a string.

    Args:
        resonances: Its resonances.
        low_hz: Below this frequency it carries less and less, 6 dB an octave.
        high_hz: Above this one, 12 dB an octave.

    Example:
        >>> body = Body([Resonance(200.0, 5.0, 1.0)], low_hz=1.0, high_hz=10_000.0)
        >>> [round(float(gain), 2) for gain in body.carried(np.array([200.0, 1000.0, 10_000.0]))]
        [2.0, 0.99, 0.5]
    """

    resonances: tuple[Resonance, ...] = attrs.field(converter=_resonances)
    low_hz: float
    high_hz: float

    def carried(self, frequencies_hz: NDArray[np.float64]) -> NDArray[np.float64]:
        """How strongly each frequency is carried.

        Args:
            frequencies_hz: Frequencies in hertz, above 0.

        Returns:
            A factor for each.
        """
        gain = np.ones_like(frequencies_hz)
        for resonance in self.resonances:
            off = resonance.quality * (
                frequencies_hz / resonance.hz - resonance.hz / frequencies_hz
            )
            gain += resonance.gain / (1.0 + off**2)
        below = self.low_hz / frequencies_hz
        above = frequencies_hz / self.high_hz
        return gain / (np.sqrt(1.0 + below**2) * (1.0 + above**2))
