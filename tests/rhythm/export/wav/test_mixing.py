"""Mixing: a block at a time gives what one sum over everything gives."""

from __future__ import annotations

import numpy as np

from gripwright_rhythm.export.wav.mixing import damping, mixed
from gripwright_rhythm.export.wav.sounding import Sounding, Tone
from gripwright_rhythm.export.wav.tone_store import ToneStore

RATE = 44_100


def test_blocks_join_without_a_seam() -> None:
    """Tones that start, end or are damped across the border of two blocks, added up at once."""
    border = 2**16
    places = [
        (0, 3 * border),
        (border - 1, border),
        (border - 100, border + 5000),
        (border - 300, border - 100),
        (border, border + 1),
        (2 * border - 2000, 2 * border),
    ]
    uses = [
        Sounding(onset, end, Tone("chord", 50 + place, 4), 0.1 * (place + 1))
        for place, (onset, end) in enumerate(places)
    ]
    uses.sort(key=lambda one: one.onset)
    damp = damping(RATE)
    store = ToneStore(uses, RATE, 440.0, after=len(damp))
    samples = 3 * border + 12_345
    expected = np.zeros(samples)
    for one in uses:
        tone = store[one.tone].astype(np.float64)[: one.end - one.onset + len(damp)]
        envelope = np.concatenate([np.ones(one.end - one.onset), damp])[: len(tone)]
        expected[one.onset : one.onset + len(tone)] += one.gain * tone * envelope
    found = np.concatenate(list(mixed(uses, samples, store, damp)))
    assert found.shape == (samples,)
    np.testing.assert_allclose(found, expected, atol=1e-6)


def test_damping_falls_from_one_to_nothing_in_8_ms() -> None:
    """It starts where the tone is and never rises."""
    damp = damping(RATE)
    assert len(damp) == 353
    assert (damp[0], damp[-1]) == (1.0, 0.0)
    assert np.all(np.diff(damp) <= 0.0)
