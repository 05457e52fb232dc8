"""Noise that stays the same."""

from __future__ import annotations

import numpy as np

from gripwright_rhythm.export.wav.noise import white_noise


def test_the_raw_numbers_of_the_generator_are_those_it_is_published_with() -> None:
    """NumPy keeps the stream of PCG64 (NEP 19): these came from NumPy 2.4, seed 42."""
    assert [round(float(sample), 6) for sample in white_noise(42, 3)] == [
        0.547912,
        -0.122243,
        0.717196,
    ]


def test_it_is_spread_evenly_about_nothing() -> None:
    """Mean 0 and variance 1/3, as of even numbers from -1 to 1, within four standard errors."""
    noise = white_noise(1, 100_000)
    assert abs(noise.mean()) < 4 * (1 / 3 / 100_000) ** 0.5
    assert abs(noise.var() - 1 / 3) < 0.004
    assert -1.0 <= noise.min() < -0.999 < 0.999 < noise.max() < 1.0


def test_seeds_differ() -> None:
    """Two seeds give two noises."""
    assert not np.array_equal(white_noise(1, 10), white_noise(2, 10))
