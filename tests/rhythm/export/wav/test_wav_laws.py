"""Laws of sound files, over any score."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ChordEvent, ClickEvent, NoteEvent, Pitch, Score
from gripwright_rhythm.export.wav import WavExporter
from tests.rhythm.export.wav.heard import heard
from tests.rhythm.export.wav.played import GUITAR, ONE, TWELVE, score_of, struck
from tests.rhythm.few import few

RATE = 22_050
CEILING = 2**15 * 10 ** (-12 / 20)

_times = st.fractions(0, Fraction(39, 10), max_denominator=64)
_lengths = st.fractions(Fraction(1, 64), 4, max_denominator=64)
_dynamics = st.integers(1, 127)


@st.composite
def _chords(draw: st.DrawFn) -> ChordEvent:
    onset = draw(_times)
    frets = draw(st.lists(st.integers(-1, 20), min_size=6, max_size=6))
    return struck(
        onset,
        min(onset + draw(_lengths), Fraction(4)),
        tuple(frets),
        instrument=draw(st.sampled_from([GUITAR, TWELVE])),
        dynamic=draw(_dynamics),
        stroke=draw(st.sampled_from(["down", "up", "pluck"])),
    )


@st.composite
def _notes(draw: st.DrawFn) -> NoteEvent:
    onset = draw(_times)
    end = min(onset + draw(_lengths), Fraction(4))
    return NoteEvent(
        onset, end, Pitch.from_midi(draw(st.integers(20, 110))), 1, ONE, draw(_dynamics)
    )


_clicks = st.builds(ClickEvent, _times, st.just(1), st.just(ONE), st.booleans())


@st.composite
def scores(draw: st.DrawFn) -> Score:
    """Any score of four quarters: as dense, as loud and as overlapping as may be."""

    def track(events: st.SearchStrategy) -> list:  # type: ignore[type-arg]
        drawn = draw(st.lists(events, max_size=4))
        # What is drawn once and played often is what makes a score dense.
        return sorted(drawn * draw(st.sampled_from([1, 1, 20])), key=lambda event: event.onset)

    return score_of(
        track(_chords()),
        tempo_bpm=draw(st.integers(100, 400)),
        clicks=track(_clicks),
        bass=track(_notes()),
        root=track(_notes()),
    )


_exporters = st.builds(
    WavExporter,
    strum_ms=st.floats(0, 500),
    strum_anchor=st.sampled_from(["first", "last"]),
    sample_rate=st.just(RATE),
    a4_hz=st.floats(390, 480),
    tail_s=st.floats(0, 1),
)


@few
@given(scores(), _exporters)
def test_any_score_peaks_at_most_12_db_below_full_scale_and_is_as_long_as_it_is(
    score: Score, exporter: WavExporter
) -> None:
    """However many tones meet, and whatever the settings."""
    rate, samples = heard(exporter.export(score))
    assert rate == RATE
    assert len(samples) == math.ceil(score.seconds * RATE) + round(exporter.tail_s * RATE)
    assert np.abs(samples * 2**15).max() <= CEILING


@few
@given(scores())
def test_nothing_sounds_before_the_first_onset_or_after_the_last_end(score: Score) -> None:
    """Where nothing is played there are zeros, and no trace of anything."""
    exporter = WavExporter(sample_rate=RATE)
    _, samples = heard(exporter.export(score))
    tracks = (score.events, score.bass, score.root, score.clicks)
    onsets = [score.seconds_at(track[0].onset) for track in tracks if track]
    first = min(onsets, default=score.seconds)
    assert not np.any(samples[: math.floor(first * RATE)])
    assert not np.any(samples[math.ceil((score.seconds + Fraction(7, 100)) * RATE) :])
