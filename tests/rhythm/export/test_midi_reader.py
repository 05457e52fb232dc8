"""Reading MIDI files that others wrote: formats, tempos, notes without a release."""

from __future__ import annotations

from fractions import Fraction
from io import BytesIO

import mido
import pytest

from gripwright_rhythm.export.midi_reader import read_midi
from gripwright_rhythm.export.unreadable import UnreadableFileError


def written(
    *tracks: list[mido.Message | mido.MetaMessage], kind: int = 1, ticks: int = 480
) -> bytes:
    """Return a file of these tracks."""
    file = mido.MidiFile(type=kind, ticks_per_beat=ticks)
    file.tracks.extend(mido.MidiTrack(track) for track in tracks)
    data = BytesIO()
    file.save(file=data)
    return data.getvalue()


def on(pitch: int, time: int = 0, velocity: int = 80) -> mido.Message:
    """Return an attack after so many ticks."""
    return mido.Message("note_on", note=pitch, velocity=velocity, time=time)


def tempo(microseconds: int, time: int = 0) -> mido.MetaMessage:
    """Return a tempo after so many ticks."""
    return mido.MetaMessage("set_tempo", tempo=microseconds, time=time)


def test_an_attack_without_velocity_is_a_release() -> None:
    """SMF 1.0 lets running status release so."""
    (note,) = read_midi(written([on(60), on(60, 480, velocity=0)])).notes
    assert (note.onset_tick, note.end_tick, note.end) == (0, 480, Fraction(1, 2))


def test_tempos_count_in_any_track() -> None:
    """A quarter at 120, one at 60, one at 240."""
    notes = read_midi(
        written(
            [tempo(1_000_000, 480), tempo(250_000, 480)],
            [on(60), on(60, 1440, velocity=0)],
        )
    ).notes
    assert notes[0].end == Fraction(1, 2) + 1 + Fraction(1, 4)


def test_a_note_attacked_again_ends_there_and_one_never_released_with_its_track() -> None:
    """Nothing hangs."""
    end = mido.MetaMessage("end_of_track", time=480)
    notes = read_midi(written([on(60), on(60, 240), end])).notes
    assert [(one.onset_tick, one.end_tick) for one in notes] == [(0, 240), (240, 720)]


def test_a_file_of_format_0_is_read() -> None:
    """Its one track holds tempo and notes."""
    (note,) = read_midi(written([tempo(600_000), on(60), on(60, 480, 0)], kind=0)).notes
    assert note.end == Fraction(6, 10)


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "it ends too early"),
        (b"RIFF" + bytes(40), "MThd not found"),
        (written([on(60)], kind=2), "format 2"),
        (b"MThd\x00\x00\x00\x06\x00\x01\x00\x00\xe7\x28", "frames of film"),
        (b"MThd\x00\x00\x00\x06\x00\x01\x00\x00\x00\x00", "frames of film"),
        (written([on(60)])[:-2], "it ends too early"),
        (
            written([mido.MetaMessage("key_signature", key="C")]).replace(
                b"\x59\x02\x00", b"\x59\x02\x40"
            ),
            "key",
        ),
        (bytes(16 * 1024 * 1024 + 1), "more than 16,777,216"),
    ],
    ids=["empty", "sound", "format", "film", "no ticks", "cut off", "key", "large"],
)
def test_what_is_no_midi_file_is_refused(data: bytes, reason: str) -> None:
    """The error says what is wrong."""
    with pytest.raises(UnreadableFileError, match=reason) as caught:
        read_midi(data)
    assert caught.value.what == "MIDI file"
