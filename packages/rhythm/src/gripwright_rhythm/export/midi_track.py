"""Tracks of a MIDI file as messages of mido."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mido import Message, MetaMessage, MidiTrack

from gripwright.errors import ConditionError
from gripwright_rhythm.export.midi_conductor import Meta
from gripwright_rhythm.export.midi_notes import NotePart
from gripwright_rhythm.export.midi_ticks import TICKS_PER_QUARTER

LONGEST_DELTA: Final = 2**28 - 1
"""Ticks between two events of a track at most: four bytes of seven bits."""

RELEASE_VELOCITY: Final = 64
"""What MIDI 1.0 gives a release whose speed nobody measured."""

_LONGEST_TEXT: Final = 2**16

# What is said first at a tick: a pitch that is attacked again is released before.
_RELEASE: Final = 0
_SYMBOL: Final = 1
_ATTACK: Final = 2

# All of them as whole numbers, which sort fast: the tick, then 16 bits of what is said at it:
# which of the three, pitch and velocity.
_WORD: Final = 16
_KIND: Final = 14
_PITCH: Final = 7
_SEVEN_BITS: Final = 127


class _NoteMessage(Message):  # type: ignore[misc]  # mido ships no types
    """An attack or a release that is encoded once, however often it is written."""

    def __init__(self, kind: str, **values: int) -> None:
        super().__init__(kind, **values)
        self.__dict__["encoded"] = super().bytes()

    def bytes(self) -> list[int]:
        """What mido writes, after the time."""
        encoded: list[int] = self.__dict__["encoded"]
        return encoded


def meta_track(metas: list[Meta], end: int) -> MidiTrack:
    """The first track of a file.

    Args:
        metas: Its meta events by tick.
        end: The tick at which it ends.

    Raises:
        ConditionError: A rest too long, or a text that is no Unicode.
    """
    track = MidiTrack()
    place = 0
    for tick, kind, values in metas:
        texts = {name: _text(value) for name, value in values.items() if isinstance(value, str)}
        track.append(MetaMessage(kind, **{**values, **texts}, time=_delta(tick - place)))
        place = tick
    track.append(_track_end(end - place))
    return track


def note_track(part: NotePart, end: int) -> MidiTrack:
    """A track of notes.

    Args:
        part: What it says.
        end: The tick at which it ends, where no note lasts longer.

    Raises:
        ConditionError: A rest too long.
    """
    track = MidiTrack()
    channel = part.channel - 1
    track.append(MetaMessage("track_name", name=part.name, time=0))
    if part.program is not None:
        track.append(Message("program_change", channel=channel, program=part.program - 1, time=0))
    place = 0
    symbols = iter(text for _, text in sorted(part.symbols))
    # Equal messages are one object: mido's are immutable, and a drill says the same over and over.
    known: dict[tuple[int, int], _NoteMessage] = {}
    for said in sorted(_said(part)):
        tick, word = said >> _WORD, said & ((1 << _WORD) - 1)
        delta = tick - place
        place = tick
        if word >> _KIND == _SYMBOL:
            track.append(MetaMessage("text", text=_text(next(symbols)), time=_delta(delta)))
            continue
        message = known.get((word, delta))
        if message is None:
            message = known[word, delta] = _NoteMessage(
                "note_on" if word >> _KIND == _ATTACK else "note_off",
                channel=channel,
                note=word >> _PITCH & _SEVEN_BITS,
                velocity=word & _SEVEN_BITS,
                time=_delta(delta),
            )
        track.append(message)
    track.append(_track_end(max(end - place, 0)))
    return track


def _said(part: NotePart) -> Iterator[int]:
    for pitch, attack, release, velocity in part.notes:
        note = pitch << _PITCH
        yield attack << _WORD | _ATTACK << _KIND | note | velocity
        yield release << _WORD | _RELEASE << _KIND | note | RELEASE_VELOCITY
    for tick, _ in part.symbols:
        yield tick << _WORD | _SYMBOL << _KIND


def _track_end(delta: int) -> MetaMessage:
    return MetaMessage("end_of_track", time=_delta(delta))


def _delta(ticks: int) -> int:
    if ticks > LONGEST_DELTA:
        raise ConditionError(
            name="rest",
            value=f"{ticks:,} ticks",
            expected=f"at most {LONGEST_DELTA:,} between two events of a MIDI track:"
            f" {LONGEST_DELTA // TICKS_PER_QUARTER:,} quarters",
        )
    return ticks


def _text(text: str) -> str:
    """The text, where a MIDI file can hold it."""
    if len(text) > _LONGEST_TEXT:
        raise ConditionError(
            name="text", value=text, expected=f"at most {_LONGEST_TEXT:,} characters"
        )
    try:
        text.encode()
    except UnicodeEncodeError:
        raise ConditionError(
            name="text", value=text, expected="Unicode without surrogates, for UTF-8"
        ) from None
    return text
