"""The store of tones: made once, as long as needed, within its bound."""

from __future__ import annotations

import numpy as np

from gripwright_rhythm.export.wav.sounding import Sounding, Tone
from gripwright_rhythm.export.wav.tone_store import ToneStore

RATE = 44_100
TONES = [Tone("chord", midi, 4) for midi in range(50, 60)]


def test_a_tone_is_made_once_and_as_long_as_its_longest_use() -> None:
    """The same array comes back."""
    uses = [Sounding(0, 100, TONES[0]), Sounding(500, 900, TONES[0])]
    store = ToneStore(uses, RATE, 440.0, after=7)
    assert len(store[TONES[0]]) == 407
    assert store[TONES[0]] is store[TONES[0]]


def test_what_is_kept_stays_within_its_bound() -> None:
    """The tone that was used longest ago goes first, and comes back equal."""
    uses = [Sounding(0, 1000, tone) for tone in TONES]
    store = ToneStore(uses, RATE, 440.0, most_bytes=5 * 4000)
    first = store[TONES[0]]
    for tone in TONES:
        store[tone]
        assert store.kept_bytes <= 5 * 4000
    assert store[TONES[9]] is store[TONES[9]]
    again = store[TONES[0]]
    assert again is not first
    assert np.array_equal(again, first)


def test_a_tone_longer_than_the_bound_is_still_made() -> None:
    """One tone is always kept: the one that is asked for."""
    store = ToneStore([Sounding(0, 1000, TONES[0])], RATE, 440.0, most_bytes=1)
    assert len(store[TONES[0]]) == 1000


def test_a_tone_ends_where_it_cannot_be_heard() -> None:
    """An hour of one note costs no hour of memory."""
    store = ToneStore([Sounding(0, 3600 * RATE, TONES[0])], RATE, 440.0)
    assert len(store[TONES[0]]) < 60 * RATE
    assert np.abs(store[TONES[0]][-RATE:]).max() < 1 / 2**14


def test_both_strings_of_a_course_differ() -> None:
    """Two strings in unison are no single louder one."""
    tones = [Tone("chord", 59, 4), Tone("chord", 59, 4, double=True)]
    store = ToneStore([Sounding(0, RATE, tone) for tone in tones], RATE, 440.0)
    assert not np.allclose(store[tones[0]], store[tones[1]], atol=1e-3)
