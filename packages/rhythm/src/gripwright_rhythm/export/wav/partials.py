"""Decaying partials, and their sum."""

from __future__ import annotations

from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

HIGHEST_PART_OF_RATE: Final = 0.45
"""Partials lie below this part of the sample rate, clear of folding back at half of it."""

_ROW: Final = 512


@attrs.frozen(eq=False)
class Partials:
    """Partials that start together and die away: ``a * exp(-d * t) * sin(2 * pi * f * t)`` each.

    Args:
        frequencies_hz: Frequency f of each in hertz, of shape ``(partials,)``.
        decays: How fast each falls, d, in nepers a second; above 0.
        amplitudes: How strong each is at the start, a.
    """

    frequencies_hz: NDArray[np.float64]
    decays: NDArray[np.float64]
    amplitudes: NDArray[np.float64]

    def strength(self, seconds: float) -> float:
        """Root mean square over the first seconds, partials taken one by one.

        Args:
            seconds: How many, above 0.

        Example:
            >>> one = np.array([1.0])
            >>> round(Partials(440 * one, 1e-6 * one, one).strength(0.1), 4)
            0.7071
        """
        fall = 2.0 * self.decays * seconds
        return float(np.sqrt(np.sum(self.amplitudes**2 / 2.0 * -np.expm1(-fall) / fall)))

    def sounded(self, samples: int, sample_rate: int) -> NDArray[np.float64]:
        """What they add up to.

        A partial is a power of one complex number, and ``p ** (512 * k + j)`` is a product of a
        factor of k and one of j: so all samples of the sum come from one product of two small
        matrices, and not from a sine a sample.

        Args:
            samples: How many samples.
            sample_rate: Samples a second.

        Returns:
            Samples of shape ``(samples,)``; the first is 0.

        Example:
            >>> one = np.array([1.0])
            >>> tone = Partials(250 * one, 1e-9 * one, one).sounded(1000, 1000)
            >>> [round(float(sample), 6) + 0.0 for sample in tone[996:]]
            [0.0, 1.0, 0.0, -1.0]
        """
        poles = (2j * np.pi * self.frequencies_hz - self.decays) / sample_rate
        rows = -(-samples // _ROW)
        coarse = self.amplitudes * np.exp(np.outer(np.arange(rows) * _ROW, poles))
        fine = np.exp(np.outer(poles, np.arange(_ROW)))
        # The imaginary part of a product of complex numbers, as one product of real matrices.
        left = np.concatenate([coarse.real, coarse.imag], axis=1)
        right = np.concatenate([fine.imag, fine.real], axis=0)
        sounded: NDArray[np.float64] = (left @ right).ravel()[:samples]
        return sounded
