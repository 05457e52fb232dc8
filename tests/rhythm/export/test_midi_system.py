"""MIDI files read by Debian's ``midicsv`` (John Walker, public domain), exact in ticks."""

from __future__ import annotations

import csv
import shutil
import subprocess

import pytest
from hypothesis import given

from gripwright import Score
from gripwright.laws.drawing import scores
from gripwright.score.sample import sample_score
from gripwright_rhythm.export.midi import MidiExporter
from tests.rhythm.export.midi_model import Sounding, expected
from tests.rhythm.export.scores import drill
from tests.rhythm.export.test_midi_laws import DRILLS, clicks_of

pytestmark = pytest.mark.system


def records(score: Score) -> list[list[str]]:
    """Return what midicsv says of the file, record by record."""
    data = MidiExporter().export(score)
    program = shutil.which("midicsv")
    assert program is not None
    run = subprocess.run([program], input=data, capture_output=True, check=True)
    assert run.stderr == b""
    text = run.stdout.decode("latin-1")
    return list(csv.reader(text.splitlines(), skipinitialspace=True))


def notes_of(rows: list[list[str]]) -> tuple[list[Sounding], list[tuple[int, int]]]:
    """Return the notes and the clicks, attacks and releases paired as they stand."""
    open_notes: dict[tuple[int, int], tuple[int, int]] = {}
    notes: list[Sounding] = []
    clicks: list[tuple[int, int]] = []
    for _, time, kind, *values in rows:
        if kind not in {"Note_on_c", "Note_off_c"}:
            continue
        tick, channel, pitch, velocity = int(time), int(values[0]) + 1, int(values[1]), values[2]
        if kind == "Note_off_c":
            on, loudness = open_notes.pop((channel, pitch))
            assert on < tick
            if channel == 10:
                clicks.append((on, pitch))
            else:
                notes.append((channel, pitch, on, tick, loudness))
        else:
            assert (channel, pitch) not in open_notes, "attacked while it sounds"
            open_notes[channel, pitch] = (tick, int(velocity))
    assert open_notes == {}, "a note hangs"
    return sorted(notes), sorted(clicks)


@given(scores())
def test_every_onset_and_release_is_the_score_s_to_the_tick(score: Score) -> None:
    """What midicsv finds is what the model says must sound, and not a tick elsewhere."""
    notes, clicks = notes_of(records(score))
    assert notes == expected(score)
    assert clicks == clicks_of(score)


@pytest.mark.parametrize("name", DRILLS)
def test_every_drill_is_exact_to_the_tick(name: str) -> None:
    """The same for scores that make_drill made."""
    score = drill(**DRILLS[name])
    notes, clicks = notes_of(records(score))
    assert notes == expected(score)
    assert clicks == clicks_of(score)


def test_the_whole_file_of_the_sample() -> None:
    """Header, tempo map, tracks and ends, as midicsv names them."""
    rows = records(sample_score())
    assert rows[0] == ["0", "0", "Header", "1", "3", "960"]
    first = [row[1:] for row in rows if row[0] == "1"]
    assert first == [
        ["0", "Start_track"],
        ["0", "Title_t", "Sample"],
        ["0", "Text_t", "rhythm: long, then short"],
        ["0", "Text_t", "click: all beats"],
        ["0", "Tempo", "1000000"],
        ["0", "Time_signature", "4", "2", "24", "8"],
        ["0", "Marker_t", "count-in"],
        ["3840", "Key_signature", "0", "major"],
        ["3840", "Marker_t", "chorus 1"],
        ["11520", "End_track"],
    ]
    assert [row[3] for row in rows if row[2] == "Title_t"] == ["Sample", "clicks", "chords"]
    assert rows[-1] == ["0", "0", "End_of_file"]
