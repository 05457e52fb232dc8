"""Clicks: told from one another and from whatever is played with them."""

from __future__ import annotations

from fractions import Fraction

import attrs
import numpy as np
import pytest

from gripwright import ClickEvent, Score
from gripwright_rhythm.export.wav import WavExporter
from gripwright_rhythm.export.wav.tick import tick
from tests.rhythm.export.wav.heard import centroid, heard, level_db, strength_near
from tests.rhythm.export.wav.played import drill, score_of

RATE = 44_100


def erb(hz: float) -> float:
    """Return the width of the ear's filter at a frequency (Glasberg and Moore 1990)."""
    return 24.7 * (4.37 * hz / 1000.0 + 1.0)


def loudest_hz(samples: np.ndarray) -> float:
    """Return the frequency of the strongest bin."""
    spectrum = np.abs(np.fft.rfft(samples, 2**16))
    return float(spectrum.argmax() * RATE / 2**16)


def clicks_of(score: Score) -> np.ndarray:
    """Return the clicks of a score alone."""
    alone = attrs.evolve(score, events=(), bass=(), root=())
    return heard(WavExporter().export(alone))[1]


def test_the_accent_is_a_fifth_higher_and_louder() -> None:
    """Told apart by pitch, not by level alone."""
    plain, accent = (tick(RATE, accent=accent).astype(np.float64) for accent in (False, True))
    assert loudest_hz(accent) / loudest_hz(plain) == pytest.approx(1.5, abs=0.02)
    assert centroid(RATE, accent) > 1.4 * centroid(RATE, plain)
    assert np.abs(accent).max() > 1.15 * np.abs(plain).max()


def test_accents_fall_where_the_score_has_them() -> None:
    """The first click of a bar is the high one."""
    events = [ClickEvent(Fraction(beat), 1, Fraction(beat + 1), beat == 0) for beat in range(4)]
    samples = clicks_of(score_of(clicks=events))
    found = [loudest_hz(samples[beat * RATE : beat * RATE + 2646]) for beat in range(4)]
    assert found[0] > 1.4 * max(found[1:])


@pytest.mark.parametrize("dynamic", [80, 127])
def test_every_click_is_heard_over_the_chord_that_starts_with_it(dynamic: int) -> None:
    """In the ear's filter at its pitch it is 6 dB stronger than all else, however loud that is.

    A tone in noise of its filter's width is heard from about -4 dB on (Moore, *An Introduction
    to the Psychology of Hearing*; the figure from memory).
    """
    score = drill("1 2 3 4", dynamic=dynamic, max_notes=6, tempo_bpm=100, bass=True, root="held")
    others = heard(WavExporter().export(attrs.evolve(score, clicks=())))[1]
    clicks = clicks_of(score)
    pitches = {
        accent: loudest_hz(tick(RATE, accent=accent).astype(np.float64)) for accent in (False, True)
    }
    for click in score.clicks:
        onset = round(score.seconds_at(click.onset) * RATE)
        hz = pitches[click.accent]
        own, beside = (
            strength_near(RATE, samples[onset : onset + 1323], hz, erb(hz))
            for samples in (clicks, others)
        )
        assert own > 4.0 * beside


def test_clicks_are_no_louder_than_chords_make_up_for() -> None:
    """Safe to hear: a click peaks below -16 dBFS, and its energy is gone in 40 ms."""
    for accent in (False, True):
        sound = tick(RATE, accent=accent).astype(np.float64) * 10 ** (-12 / 20)
        assert np.abs(sound).max() < 10 ** (-16 / 20)
        assert level_db(sound[1764:]) < level_db(sound[:441]) - 30.0
