"""The MIDI file as Debian's FluidSynth plays it, beside the WAV file of the same score."""

from __future__ import annotations

import subprocess
from fractions import Fraction
from pathlib import Path

import mir_eval
import pytest

from gripwright_rhythm.export.midi import MidiExporter
from gripwright_rhythm.export.wav import WavExporter
from tests.rhythm.export.wav.heard import heard, onsets, without_median
from tests.rhythm.export.wav.played import drill, onset_seconds

pytestmark = pytest.mark.system

# From the Debian package timgm6mb-soundfont.
SOUND_FONT = "/usr/share/sounds/sf2/TimGM6mb.sf2"


@pytest.mark.parametrize(("pattern", "click"), [("1 2 3 4", "all"), ("1' 2.5' 4", "off")])
def test_both_sounds_of_a_score_start_together(pattern: str, click: str, tmp_path: Path) -> None:
    """Within 10 ms, less the median: a sampled sound speaks some milliseconds late."""
    score = drill(pattern, click, tempo_bpm=132, swing=Fraction(2), count_in=1)
    played, rendered = tmp_path / "score.mid", tmp_path / "score.wav"
    played.write_bytes(MidiExporter().export(score))
    dry = ("-R", "0", "-C", "0", "-r", "44100", "-F", str(rendered))
    subprocess.run(
        ["fluidsynth", "-n", "-i", "-q", *dry, SOUND_FONT, str(played)],  # noqa: S607 - Debian's
        check=True,
        capture_output=True,
    )
    truth = onset_seconds(score)
    ours, theirs = (
        without_median(onsets(*heard(sound)), truth)
        for sound in (WavExporter().export(score), rendered)
    )
    assert len(ours) == len(theirs) == len(truth)
    assert mir_eval.onset.f_measure(ours, theirs, window=0.010) == (1.0, 1.0, 1.0)
