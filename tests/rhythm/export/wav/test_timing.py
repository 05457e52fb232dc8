"""When chords are heard to start and to end, by a detector that knows nothing of the score."""

from __future__ import annotations

from fractions import Fraction

import mir_eval
import numpy as np
import pytest

from gripwright_rhythm.export.wav import WavExporter
from tests.rhythm.export.wav.heard import (
    heard,
    level_db,
    onsets,
    strength_near,
    without_median,
)
from tests.rhythm.export.wav.played import drill, onset_seconds, score_of, struck, sung

RATE = 44_100
G2_HZ, E4_HZ = 97.9989, 329.6276


@pytest.mark.parametrize("click", ["off", "all", "2.5 4.5"])
@pytest.mark.parametrize("pattern", ["1 2 3 4", "1' 2.5' 4", "1 1.5 2.5' 3.5 4.5"])
def test_every_onset_is_heard_within_5_ms(pattern: str, click: str) -> None:
    """Spectral flux and `mir_eval.onset` find each chord and click, and nothing else."""
    score = drill(pattern, click, tempo_bpm=132, swing=Fraction(2), count_in=1)
    truth = onset_seconds(score)
    found = onsets(*heard(WavExporter().export(score)))
    measured = mir_eval.onset.f_measure(truth, without_median(found, truth), window=0.005)
    assert measured == (1.0, 1.0, 1.0)


def test_the_detector_tells_a_chord_that_is_10_ms_late() -> None:
    """The check above can fail: of four chords, the late one is missed."""
    times = [Fraction(0), Fraction(1), Fraction(2), Fraction(301, 100)]
    score = score_of([struck(time, time + Fraction(1, 2)) for time in times])
    found = onsets(*heard(WavExporter().export(score)))
    truth = np.arange(4.0)
    measure, *_ = mir_eval.onset.f_measure(truth, without_median(found, truth), window=0.005)
    assert measure == 0.75


@pytest.mark.parametrize(
    "frets", [(0, 2, 2, 1, 0, 0), (-1, 3, 5, 4, 5, -1), (12, 14, 14, -1, -1, -1)]
)
@pytest.mark.parametrize("length", [Fraction(1, 8), Fraction(1, 2), Fraction(2)])
def test_a_chord_falls_by_20_db_within_30_ms_of_its_end(
    frets: tuple[int, ...], length: Fraction
) -> None:
    """And not before its end: the last 30 ms are about as loud as the 30 ms before them."""
    _, samples = heard(WavExporter().export(score_of([struck(1, 1 + length, frets)])))
    end = round((1 + length) * RATE)
    last = level_db(samples[end - 1323 : end])
    assert abs(last - level_db(samples[end - 2646 : end - 1323])) < 4.0
    assert level_db(samples[end + 353 : end + 1323]) < last - 20.0
    assert not np.any(samples[end + 441 :])


def test_the_first_sample_of_a_chord_is_that_of_its_onset() -> None:
    """Silence before it, sound within a millisecond after it."""
    _, samples = heard(WavExporter().export(score_of([struck(Fraction(4, 3), 2)])))
    onset = round(Fraction(4, 3) * RATE)
    assert not np.any(samples[: onset + 1])
    assert np.any(samples[onset + 1 : onset + 44])


def test_damping_leaves_no_click_of_its_own() -> None:
    """Above 4 kHz its end has less than a hundredth of the energy of its attack."""
    _, samples = heard(WavExporter().export(score_of([struck(0, 2)])))
    end = 2 * RATE
    fading = strength_near(RATE, samples[end - 441 : end + 882], 10_000.0, 12_000.0)
    attack = strength_near(RATE, samples[:1323], 10_000.0, 12_000.0)
    assert fading < attack / 100.0


def test_what_rings_over_goes_on_under_the_next_chord() -> None:
    """An open bass string that lasts past the next onset is heard there; a damped one is not."""
    low, high = (3, -1, -1, -1, -1, -1), (-1, -1, -1, -1, -1, 0)
    levels = []
    for end in (1, 3):
        score = score_of([struck(0, end, low), struck(1, 3, high)])
        _, samples = heard(WavExporter().export(score))
        levels.append(strength_near(RATE, samples[RATE + 4410 : 2 * RATE], G2_HZ, 10.0))
    assert levels[1] > 1e4 * levels[0]


@pytest.mark.parametrize(
    ("stroke", "first", "last"), [("down", G2_HZ, E4_HZ), ("up", E4_HZ, G2_HZ)]
)
def test_a_strum_spreads_the_strings_from_the_onset_on(
    stroke: str, first: float, last: float
) -> None:
    """With 100 ms between them, the first string sounds at the onset and the last one then."""
    event = struck(1, 3, (3, -1, -1, -1, -1, 0), stroke=stroke)  # type: ignore[arg-type]
    _, samples = heard(WavExporter(strum_ms=100).export(score_of([event])))
    early = samples[RATE : RATE + 4410]
    late = samples[RATE + 4410 : RATE + 8820]
    assert strength_near(RATE, early, first, 40.0) > 100 * strength_near(RATE, early, last, 40.0)
    assert strength_near(RATE, late, last, 40.0) > 100 * strength_near(RATE, early, last, 40.0)
    assert not np.any(samples[3 * RATE + 441 :])


def test_bass_and_root_start_and_end_as_exactly_as_chords() -> None:
    """Each track is silent before its onset and after its damping."""
    note = [sung(1, 2, "G2")]
    for score in (score_of(bass=note), score_of(root=note)):
        _, samples = heard(WavExporter().export(score))
        assert not np.any(samples[: RATE + 1])
        assert level_db(samples[RATE : RATE + 2205]) > -45.0
        assert not np.any(samples[2 * RATE + 441 :])


def test_a_longer_score_drifts_by_no_sample() -> None:
    """Each time is rounded on its own: thirds of a second, an hour in, are where they should be."""
    late = Fraction(1800) + Fraction(1, 3)
    score = score_of([struck(0, 1), struck(late, late + 1)], quarters=1804)
    _, samples = heard(WavExporter(sample_rate=22_050).export(score))
    onset = round(late * 22_050)
    assert not np.any(samples[onset - 22_050 : onset + 1])
    assert np.any(samples[onset + 1 : onset + 22])
