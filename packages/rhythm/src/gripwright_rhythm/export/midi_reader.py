"""Standard MIDI Files read: which notes sound, and when."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from fractions import Fraction
from io import BytesIO
from typing import TYPE_CHECKING, Final

import attrs

from gripwright_rhythm.export.unreadable import UnreadableFileError

if TYPE_CHECKING:
    from mido import MidiFile

LARGEST_BYTES: Final = 16 * 1024 * 1024
"""Bytes of the largest file that is read."""

_USUAL_TEMPO: Final = 500_000


@attrs.frozen
class MidiNote:
    """A note of a MIDI file.

    Args:
        track: The place of its track in the file, counted from 0.
        channel: Its channel, 1 to 16.
        pitch: Its MIDI number.
        velocity: How hard it is attacked, 1 to 127.
        onset_tick: Where it starts.
        end_tick: Where it ends.
        onset: Seconds from the start of the file, by its tempos, exact.
        end: Seconds from the start of the file to its end.
    """

    track: int
    channel: int
    pitch: int
    velocity: int
    onset_tick: int
    end_tick: int
    onset: Fraction
    end: Fraction


@attrs.frozen
class MidiNotes:
    """What sounds in a MIDI file.

    Args:
        ticks_per_quarter: Its ticks.
        notes: Its notes by onset, then track, then pitch.
    """

    ticks_per_quarter: int
    notes: tuple[MidiNote, ...]


def read_midi(data: bytes) -> MidiNotes:
    """Read the notes of a Standard MIDI File of format 0 or 1, ours or any other.

    A note lasts until its release, until the same pitch of the same track and channel is attacked
    again, or until its track ends, whichever is first; one that lasts no tick is left out. Tempos
    count wherever they stand.

    Args:
        data: The file.

    Raises:
        UnreadableFileError: It is no such file, it is cut off, or it counts frames of film.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> from gripwright_rhythm.export.midi import MidiExporter
        >>> found = read_midi(MidiExporter().export(sample_score()))
        >>> [(note.pitch, str(note.onset)) for note in found.notes if note.channel == 1][:4]
        [(50, '4'), (57, '4'), (60, '4'), (65, '4')]
    """
    file = _file(data)
    clock = _Clock.of(file)
    notes = [
        MidiNote(track, channel, pitch, velocity, on, off, clock.seconds(on), clock.seconds(off))
        for track in range(len(file.tracks))
        for channel, pitch, velocity, on, off in _notes(file, track)
    ]
    notes.sort(key=lambda note: (note.onset_tick, note.track, note.channel, note.pitch))
    return MidiNotes(file.ticks_per_beat, tuple(notes))


def _file(data: bytes) -> MidiFile:
    # Late on purpose: plugins are loaded without what their formats need.
    from mido import KeySignatureError, MidiFile  # noqa: PLC0415

    if len(data) > LARGEST_BYTES:
        raise _unreadable(f"it has {len(data):,} bytes, more than {LARGEST_BYTES:,}")
    try:
        file = MidiFile(file=BytesIO(data))
    except EOFError:
        raise _unreadable("it ends too early") from None
    except (OSError, ValueError, LookupError, TypeError, KeySignatureError) as error:
        raise _unreadable(str(error) or type(error).__name__) from None
    if file.type not in {0, 1}:
        raise _unreadable(f"it is of format {file.type}, not 0 or 1")
    if file.ticks_per_beat <= 0:
        raise _unreadable("it counts frames of film and not quarters")
    return file


def _unreadable(reason: str) -> UnreadableFileError:
    return UnreadableFileError(what="MIDI file", reason=reason)


def _notes(file: MidiFile, number: int) -> Iterator[tuple[int, int, int, int, int]]:
    """Channel, pitch, velocity, onset and end of the notes of a track."""
    open_notes: dict[tuple[int, int], tuple[int, int]] = {}
    tick = 0
    for message in file.tracks[number]:
        tick += message.time
        if message.type not in {"note_on", "note_off"}:
            continue
        key = (message.channel + 1, message.note)
        begun = open_notes.pop(key, None)
        if begun is not None and begun[0] < tick:
            yield *key, begun[1], begun[0], tick
        if message.type == "note_on" and message.velocity > 0:
            open_notes[key] = (tick, message.velocity)
    for key, (start, velocity) in open_notes.items():
        if start < tick:
            yield *key, velocity, start, tick


@attrs.frozen
class _Clock:
    """Seconds at a tick: from which tick, at which second, a tick lasts how long."""

    ticks: tuple[int, ...]
    rows: tuple[tuple[Fraction, Fraction], ...]

    @classmethod
    def of(cls, file: MidiFile) -> _Clock:
        changes: dict[int, int] = {0: _USUAL_TEMPO}
        for track in file.tracks:
            tick = 0
            for message in track:
                tick += message.time
                if message.type == "set_tempo":
                    changes[tick] = message.tempo
        seconds, length, before = Fraction(0), Fraction(0), 0
        rows = []
        for tick in sorted(changes):
            seconds += (tick - before) * length
            length = Fraction(changes[tick], 1_000_000 * file.ticks_per_beat)
            before = tick
            rows.append((seconds, length))
        return cls(tuple(sorted(changes)), tuple(rows))

    def seconds(self, tick: int) -> Fraction:
        place = bisect_right(self.ticks, tick) - 1
        seconds, length = self.rows[place]
        return seconds + (tick - self.ticks[place]) * length
