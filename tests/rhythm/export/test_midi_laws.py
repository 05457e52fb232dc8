"""Laws of MIDI files, over any score, with pretty_midi (MIT) as the outside reader.

pretty_midi reads seconds by the tempos of the file; its own `time_to_tick` brings them back to
ticks. It knows no tracks without notes and no velocity of releases; on these nothing is checked.
"""

from __future__ import annotations

import pickle
import warnings
from collections import Counter
from fractions import Fraction
from io import BytesIO
from typing import Any, get_args

import pretty_midi
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ConditionError, Meter, Score
from gripwright.laws.drawing import scores
from gripwright_rhythm.export.midi import MidiExporter
from gripwright_rhythm.export.midi_notes import StrumAnchor, settled
from gripwright_rhythm.export.midi_reader import read_midi
from tests.rhythm.export.midi_model import CHANNELS, Sounding, expected, tick_of
from tests.rhythm.export.scores import drill
from tests.rhythm.few import few

DRILLS: dict[str, dict[str, Any]] = {
    "long": {"chart": "| Dm7 G7 | Cmaj7 |", "pattern": "1 3", "choruses": 2, "root": "held"},
    "short": {"chart": "| Dm7 | G7 | Cmaj7 | % |", "pattern": "1' 2.5' 4'", "bass": True},
    "pushed": {"chart": "| Dm7 | G7 | Cmaj7 | % |", "pattern": "1 2.5' 4.5>", "swing": 2},
    "ringing": {"chart": "| Em | G | Em | G |", "pattern": "1:3~ 3", "root": "pulsed"},
    "staccato": {
        "chart": "| Dm7 | G7 |",
        "pattern": "1' 2' 3' 4'!",
        "staccato": Fraction(11, 20),
        "tempo_step": 7,
        "choruses": 3,
    },
    "waltz": {
        "chart": "metre: 3/4\npickup: 1\n| G | C | D7 | G |",
        "pattern": "1 2' 3'",
        "meter": Meter(3, 4),
        "bass": True,
    },
    "approach": {"chart": "| Dm7 | G7 |", "pattern": "1 4(above)", "click": "2 4"},
}


def pretty(score: Score) -> tuple[list[Sounding], list[tuple[int, int]]]:
    """Return the notes that pretty_midi finds, and the clicks, by tick."""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = pretty_midi.PrettyMIDI(BytesIO(MidiExporter().export(score)))
    notes: list[Sounding] = []
    clicks: list[tuple[int, int]] = []
    for part in found.instruments:
        for note in part.notes:
            on, off = found.time_to_tick(note.start), found.time_to_tick(note.end)
            if part.is_drum:
                clicks.append((on, note.pitch))
            else:
                notes.append((CHANNELS[part.name], note.pitch, on, off, note.velocity))
    return sorted(notes), sorted(clicks)


def clicks_of(score: Score) -> list[tuple[int, int]]:
    """Return tick and pitch of every click; two of one kind at one tick are one."""
    return sorted({(tick_of(score, one.onset), 76 if one.accent else 77) for one in score.clicks})


@few
@given(scores())
def test_every_onset_and_release_is_the_score_s_to_the_tick(score: Score) -> None:
    """Read by pretty_midi, the file sounds what the model says."""
    notes, clicks = pretty(score)
    assert notes == expected(score)
    assert clicks == clicks_of(score)


@pytest.mark.parametrize("name", DRILLS)
def test_every_drill_is_exact_to_the_tick(name: str) -> None:
    """The same for scores that make_drill made."""
    score = drill(**DRILLS[name])
    notes, clicks = pretty(score)
    assert notes == expected(score)
    assert clicks == clicks_of(score)
    assert notes


@few
@given(scores())
def test_our_reader_finds_the_same(score: Score) -> None:
    """What is exported and read back is what was to sound, at the seconds of the score's clock."""
    read = read_midi(MidiExporter().export(score))
    own = [one for one in read.notes if one.channel != CHANNELS["clicks"]]
    found = [(one.channel, one.pitch, one.onset_tick, one.end_tick, one.velocity) for one in own]
    assert sorted(found) == expected(score)
    ticks = {tick_of(score, event.onset): event.onset for event in score.events}
    quarters = score.end - score.start
    for note in own:
        if note.channel == CHANNELS["chords"]:
            exact = score.seconds_at(ticks[note.onset_tick])
            # Half a tick at the slowest tempo, and half a microsecond a quarter.
            assert abs(note.onset - exact) <= Fraction(24, 1920) + quarters / 2_000_000


@few
@given(scores())
def test_equal_scores_give_equal_bytes(score: Score) -> None:
    """The file depends on the score's values, and not on which objects hold them."""
    again = pickle.loads(pickle.dumps(score))
    assert MidiExporter().export(again) == MidiExporter().export(score)


@few
@given(scores(), st.floats(0, 500), st.sampled_from(get_args(StrumAnchor)))
def test_a_strum_keeps_every_release_and_one_string_on_the_onset(
    score: Score, strum_ms: float, anchor: StrumAnchor
) -> None:
    """Spreading moves attacks alone, and no pitch is lost by it."""
    straight = read_midi(MidiExporter().export(score)).notes
    strummed = read_midi(MidiExporter(strum_ms=strum_ms, strum_anchor=anchor).export(score)).notes
    onsets = {tick_of(score, event.onset) for event in score.events}
    chords = [one for one in strummed if one.channel == CHANNELS["chords"]]
    assert onsets <= {one.onset_tick for one in chords}
    last_release = max((one.end_tick for one in straight), default=0)
    assert max((one.end_tick for one in strummed), default=0) == last_release
    pitches = {one.pitch for one in straight if one.channel == CHANNELS["chords"]}
    assert {one.pitch for one in chords} == pitches


_ANY_NOTES = st.lists(
    st.tuples(st.integers(60, 62), st.integers(0, 30), st.integers(0, 30), st.integers(1, 127)).map(
        lambda one: (one[0], min(one[1:3]), max(one[1:3]), one[3])
    )
)


@few
@given(_ANY_NOTES)
def test_no_two_notes_of_a_pitch_overlap_and_none_hangs(notes: list[Any]) -> None:
    """A pitch sounds at a tick where any of its notes does, each at least one tick, and once."""
    wanted: Counter[tuple[int, int]] = Counter()
    for pitch, on, off, _ in notes:
        wanted.update({(pitch, tick) for tick in range(on, max(off, on + 1))})
    found: Counter[tuple[int, int]] = Counter()
    for pitch, on, off, _ in settled(notes):
        found.update((pitch, tick) for tick in range(on, off))
    assert set(found) == set(wanted)
    assert set(found.values()) <= {1}
    attacks = {(pitch, on) for pitch, on, _, _ in notes}
    assert {(pitch, on) for pitch, on, _, _ in settled(notes)} == attacks


@few
@given(scores(), st.integers(0, 4000), st.integers(0, 255))
def test_a_broken_file_is_refused_by_its_own_error_or_read(
    score: Score, place: int, value: int
) -> None:
    """Whatever byte is changed or missing, the reader says so or reads what is left."""
    data = bytearray(MidiExporter().export(score))
    data[place % len(data)] = value
    for broken in (bytes(data), bytes(data[: place % len(data)])):
        try:
            read_midi(broken)
        except ValueError as error:
            assert "cannot read MIDI file" in str(error)
            assert not isinstance(error, ConditionError)
