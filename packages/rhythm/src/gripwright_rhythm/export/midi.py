"""Scores as Standard MIDI Files."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from io import BytesIO
from typing import TYPE_CHECKING, ClassVar, Final, TypeAlias

import attrs

from gripwright.errors import ConditionError
from gripwright_rhythm.export.midi_conductor import conductor
from gripwright_rhythm.export.midi_notes import (
    NotePart,
    Strum,
    StrumAnchor,
    click_notes,
    settled,
    single_notes,
)
from gripwright_rhythm.export.midi_reader import read_midi
from gripwright_rhythm.export.midi_ticks import TICKS_PER_QUARTER, TickGrid

if TYPE_CHECKING:
    from gripwright import Instrument, Score

SoundingNote: TypeAlias = tuple[int, int, int, int, int]
"""Channel, pitch, tick of the attack, tick of the release, velocity."""

WIDEST_STRUM_MS: Final = 500
"""The slowest strum that is still one chord."""

CLICK_CHANNEL: Final = 10
CHORD_CHANNEL: Final = 1
BASS_CHANNEL: Final = 2
ROOT_CHANNEL: Final = 3

_JAZZ_GUITAR: Final = 27
_BASS: Final = 33
_CELLO: Final = 43
_PROGRAMS: Final = {"banjo": 106, "bass": 34, "mandolin": 26, "twelve": 26, "ukulele": 25}
_PROGRAM_NUMBERS: Final = 128


@attrs.frozen
class MidiExporter:
    """Writes a Standard MIDI File of format 1 with 960 ticks a quarter, by mido.

    Tick 0 is the start of the score, count-in and all. Every onset and every end is the nearest
    tick to the score's exact time, rounded once; none lasts less than a tick. The first track
    holds tempo, metre, key, title and markers (`conductor`); after it come the clicks (channel
    10, wood blocks), the chords (channel 1), the bass (2) and the root (3), each where it has
    events. A pitch that is attacked again is released first, at the same tick; one that several
    events hold sounds until the last of them ends (`settled`). The velocity is the event's
    dynamic, in which its accent is already counted. A tempo is a whole number of microseconds a
    quarter, so that a player may drift by half a microsecond a quarter. Texts are UTF-8.

    Args:
        strum_ms: From the first string of a strum to the last, 0 to 500 ms, at most half of the
            chord; plucked chords are not spread.
        strum_anchor: Which string falls on the onset: the first, so that nothing is early, or
            the last, as a spread is heard late, the later the wider it is (doi:10.3758/BF03193772).
        doubles: Whether the doubles of courses sound too.
        program: The chords' program, 1 to 128 as General MIDI lists them; by the instrument if
            not given.

    Raises:
        ConditionError: A value outside its range.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> data = MidiExporter().export(sample_score())
        >>> data[:4], int.from_bytes(data[8:10]), int.from_bytes(data[10:12])
        (b'MThd', 1, 3)
    """

    name: ClassVar[str] = "midi"
    summary: ClassVar[str] = "Standard MIDI File: chords, clicks, bass and root as tracks"
    suffixes: ClassVar[tuple[str, ...]] = (".mid", ".midi")
    media_type: ClassVar[str] = "audio/midi"

    strum_ms: float = attrs.field(default=0.0)
    strum_anchor: StrumAnchor = attrs.field(default="first")
    doubles: bool = attrs.field(default=True)
    program: int | None = attrs.field(default=None)

    @strum_ms.validator
    def _check_strum(self, _attribute: object, value: float) -> None:
        if not 0 <= value <= WIDEST_STRUM_MS:
            raise ConditionError(
                name="strum_ms", value=value, expected=f"0 to {WIDEST_STRUM_MS} ms"
            )

    @strum_anchor.validator
    def _check_anchor(self, _attribute: object, value: str) -> None:
        if value not in {"first", "last"}:
            raise ConditionError(name="strum_anchor", value=value, expected="first or last")

    @program.validator
    def _check_program(self, _attribute: object, value: int | None) -> None:
        if value is not None and not 1 <= value <= _PROGRAM_NUMBERS:
            raise ConditionError(
                name="program", value=value, expected=f"1 to {_PROGRAM_NUMBERS}, as in General MIDI"
            )

    def export(self, score: Score, /) -> bytes:
        """Write a score.

        Args:
            score: The score.

        Returns:
            The file; equal for equal scores.

        Raises:
            ConditionError: What MIDI cannot say: a pitch outside 0 to 127, a tempo outside 24
                bits, the length of a bar in thirds of a note, a rest of more than 279,620
                quarters, or a text that is no Unicode.
        """
        # Late on purpose: plugins are loaded without what their formats need.
        from mido import MidiFile  # noqa: PLC0415

        from gripwright_rhythm.export.midi_track import meta_track, note_track  # noqa: PLC0415

        grid = TickGrid(score.start)
        end = grid.tick(score.end)
        file = MidiFile(type=1, ticks_per_beat=TICKS_PER_QUARTER, charset="utf-8")
        file.tracks.append(meta_track(conductor(score, grid), end))
        for part in self._parts(score, grid):
            if part.notes:
                file.tracks.append(note_track(part, end))
        written = BytesIO()
        file.save(file=written)
        return written.getvalue()

    def read(self, data: bytes, instrument: Instrument, /) -> tuple[SoundingNote, ...]:
        """Read the notes back; see `gripwright_rhythm.export.midi_reader.read_midi`.

        Args:
            data: The file.
            instrument: Not needed: the file says what sounds.

        Raises:
            UnreadableFileError: The bytes are no MIDI file.
        """
        del instrument
        found = read_midi(data).notes
        return tuple(
            sorted(
                (note.channel, note.pitch, note.onset_tick, note.end_tick, note.velocity)
                for note in found
            )
        )

    def kept(self, score: Score, /) -> tuple[SoundingNote, ...]:
        """What the file keeps of a score: its notes and clicks, by tick.

        Args:
            score: The score.
        """
        parts = self._parts(score, TickGrid(score.start))
        return tuple(sorted((part.channel, *note) for part in parts for note in part.notes))

    def _parts(self, score: Score, grid: TickGrid) -> Iterator[NotePart]:
        strum = Strum(Fraction(self.strum_ms) / 1000, self.strum_anchor, self.doubles)
        program = self.program or _program(score.instrument.id)
        chords, symbols = settled(strum.notes(score, grid)), _symbols(score, grid)
        yield NotePart("clicks", CLICK_CHANNEL, settled(click_notes(score.clicks, grid)))
        yield NotePart("chords", CHORD_CHANNEL, chords, program, symbols)
        yield NotePart("bass", BASS_CHANNEL, settled(single_notes(score.bass, grid)), _BASS)
        yield NotePart("root", ROOT_CHANNEL, settled(single_notes(score.root, grid)), _CELLO)


def _program(instrument: str) -> int:
    """The General MIDI program of an instrument of that id: a jazz guitar where nothing fits."""
    return _PROGRAMS.get(instrument.partition("+")[0].partition("-")[0], _JAZZ_GUITAR)


def _symbols(score: Score, grid: TickGrid) -> list[tuple[int, str]]:
    """The chords of the chart, each where it starts."""
    start, end = score.start, score.end
    return [
        (grid.tick(change.onset), "N.C." if change.chord is None else str(change.chord))
        for change in score.changes
        if start <= change.onset < end
    ]
