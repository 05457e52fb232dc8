"""Plucked strings: pitch, decay and colour, measured from their sound."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from gripwright_rhythm.export.wav import WavExporter
from gripwright_rhythm.export.wav.plucked_string import (
    BASS_STRING,
    GUITAR_STRING,
    ROOT_STRING,
    PluckedString,
)
from tests.rhythm.export.wav.heard import (
    centroid,
    frequency,
    heard,
    level_db,
    strength_near,
)
from tests.rhythm.export.wav.played import TWELVE, score_of, struck, sung

RATE = 44_100
GUITAR = range(36, 89)
A4_MIDI = 69


def equal_tempered(midi: int, a4_hz: float = 440.0) -> float:
    """Return a frequency by the published formula: 440 Hz for A4 (ISO 16), 12 equal steps."""
    return a4_hz * math.exp((midi - A4_MIDI) / 12 * math.log(2))


def plucked(midi: int, force: float = 0.6, seconds: float = 1.0) -> np.ndarray:
    """Return a tone of the guitar's string."""
    samples = round(seconds * RATE)
    tone = GUITAR_STRING.tone(equal_tempered(midi), force, samples, RATE, seed=2 * midi)
    return tone.astype(np.float64)


def cents(found: float, expected: float) -> float:
    """Return how far one frequency lies above another, in hundredths of a half step."""
    return 1200.0 * math.log2(found / expected)


@pytest.mark.parametrize("string", [GUITAR_STRING, BASS_STRING, ROOT_STRING])
def test_every_pitch_is_in_tune_within_a_cent(string: PluckedString) -> None:
    """From E1 to E7, by the turn of phase of the first partial."""
    off = {}
    # The two windows in which the phase is taken end after 380 ms.
    length = round(0.4 * RATE)
    for midi in range(28, 101):
        hz = equal_tempered(midi)
        tone = string.tone(hz, 0.6, length, RATE, seed=2 * midi).astype(np.float64)
        off[midi] = abs(cents(frequency(RATE, tone, hz), hz))
    assert max(off.values()) < 1.0


@pytest.mark.parametrize("a4_hz", [440.0, 415.0, 443.0])
def test_a_string_of_a_score_sounds_its_fret(a4_hz: float) -> None:
    """The tenth fret of the third string is F4, whatever A4 is."""
    score = score_of([struck(0, 2, (-1, -1, -1, 10, -1, -1))])
    _, samples = heard(WavExporter(a4_hz=a4_hz).export(score))
    hz = equal_tempered(65, a4_hz)
    assert abs(cents(frequency(RATE, samples, hz), hz)) < 1.0


def test_bass_and_root_sound_their_pitch() -> None:
    """Bb1 as it is spelled in the score."""
    note, hz = [sung(0, 2, "Bb1")], equal_tempered(34)
    for score in (score_of(bass=note), score_of(root=note)):
        _, samples = heard(WavExporter().export(score))
        assert abs(cents(frequency(RATE, samples, hz), hz)) < 1.0


def test_the_doubles_of_a_course_sound_at_their_octave_and_at_their_fret() -> None:
    """The lowest course at the third fret sounds G2 and G3; a single string has no such G3."""
    courses = struck(0, 2, (3, -1, -1, -1, -1, -1), instrument=TWELVE)
    single = struck(0, 2, (3, -1, -1, -1, -1, -1))
    found = [heard(WavExporter().export(score_of([event])))[1] for event in (courses, single)]
    # Even partials of G2 lie on those of G3: what is new is how strong they are.
    hz = equal_tempered(55)
    strengths = [strength_near(RATE, samples[:RATE], hz, 12.0) for samples in found]
    assert strengths[0] > 2.0 * strengths[1]


def test_a_course_in_unison_is_in_tune_within_a_cent() -> None:
    """Two strings beat slowly, and neither leaves its pitch."""
    score = score_of([struck(0, 2, (-1, -1, -1, -1, -1, 0), instrument=TWELVE)])
    _, samples = heard(WavExporter().export(score))
    hz = equal_tempered(64)
    assert abs(cents(frequency(RATE, samples, hz), hz)) < 1.0


def test_partials_stretch_as_those_of_a_stiff_string() -> None:
    """Fletcher and Rossing: n f sqrt(1 + B n^2), the first in tune; here B of E2 is 3e-5."""
    tone = plucked(40)
    for n in (4, 8, 12):
        expected = n * equal_tempered(40) * math.sqrt((1 + 3e-5 * n**2) / (1 + 3e-5))
        assert abs(cents(frequency(RATE, tone, expected), expected)) < 0.5


def test_a_pluck_in_the_middle_leaves_odd_partials_alone() -> None:
    """So theory has it, and so the root sounds hollow beside the chords."""
    hz = equal_tempered(48)
    tone = ROOT_STRING.tone(hz, 0.6, RATE, RATE, seed=1).astype(np.float64)[2205:]
    odd, even = (strength_near(RATE, tone, n * hz, 20.0) for n in (3, 2))
    assert even < odd / 1e4


def test_high_strings_die_away_sooner_than_low_ones() -> None:
    """From 0.2 to 1.2 s, E2 falls by less than E4, and E4 by less than E6."""
    falls = []
    for midi in (40, 64, 88):
        tone = plucked(midi, seconds=1.5)
        falls.append(level_db(tone[8820:13230]) - level_db(tone[52920:57330]))
    assert falls == sorted(falls)
    assert 2.0 < falls[0] < falls[2] < 60.0


def test_a_long_chord_is_still_heard_after_four_seconds() -> None:
    """A bar of 4/4 at 60: it falls as a string does, and its end is still heard."""
    _, samples = heard(WavExporter().export(score_of([struck(0, 4)])))
    fall = level_db(samples[:4410]) - level_db(samples[4 * RATE - 4410 : 4 * RATE])
    assert 10.0 < fall < 30.0


def test_the_tone_darkens_as_it_rings() -> None:
    """High partials die first, as on every string: no buzzer."""
    for midi in (40, 52, 64):
        tone = plucked(midi, seconds=1.2)
        assert centroid(RATE, tone[:4410]) > 1.2 * centroid(RATE, tone[-4410:])


def test_a_harder_pluck_is_brighter_and_no_louder() -> None:
    """Force sets the colour alone; the level is the dynamic's."""
    for midi in (40, 52, 64, 76):
        soft, hard = (plucked(midi, force, 0.15) for force in (0.1, 0.9))
        assert centroid(RATE, hard) > 1.15 * centroid(RATE, soft)
        assert abs(level_db(hard) - level_db(soft)) < 1.5


def test_dynamics_make_a_chord_louder() -> None:
    """Each step of the dynamic is heard, within one colour of the string and across them."""
    levels = []
    for dynamic in (1, 40, 64, 80, 84, 100, 127):
        _, samples = heard(WavExporter().export(score_of([struck(0, 1, dynamic=dynamic)])))
        levels.append(level_db(samples[:RATE]))
    assert all(louder > softer + 0.3 for softer, louder in pairwise(levels))


def test_strings_of_all_pitches_are_about_as_loud() -> None:
    """Within 3 dB over the whole neck in their first 150 ms."""
    levels = [level_db(plucked(midi, seconds=0.15)) for midi in GUITAR]
    assert max(levels) - min(levels) < 3.0


def test_bass_and_root_have_colours_of_their_own() -> None:
    """The same pitch is brightest on the guitar's string."""
    hz = equal_tempered(48)
    colours = [
        centroid(RATE, string.tone(hz, 0.6, RATE // 2, RATE, seed=1).astype(np.float64))
        for string in (GUITAR_STRING, BASS_STRING, ROOT_STRING)
    ]
    assert colours[0] > 1.2 * max(colours[1:])


def test_nothing_folds_back_at_half_the_sample_rate() -> None:
    """At 22,050 samples a second a high tone holds its own partials and the noise of its pluck."""
    hz = 3000.0
    tone = GUITAR_STRING.tone(hz, 1.0, 22_050, 22_050, seed=3).astype(np.float64)[2205:]
    own = sum(strength_near(22_050, tone, n * hz, 400.0) for n in (1, 2, 3))
    assert strength_near(22_050, tone, 5512.5, 11_025.0) < 1.0001 * own
