"""Instruments, entries, reviews and the profile as plain records, and back.

Records hold only what JSON holds. They are what an export consists of, and what the tables keep
as text.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from typing import Any, Final

from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument, InstrumentString
from gripwright.neck.shape import Shape
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.pitch import Pitch
from gripwright.vocabulary.entry import Entry, Facts
from gripwright.vocabulary.ladder_place import LadderPlace
from gripwright.vocabulary.profile import Profile
from gripwright.vocabulary.questioning import grip_for
from gripwright_server.store.field import Record, RecordError, read, refusals, texts
from gripwright_server.store.moment import from_text, to_text
from gripwright_server.store.schedule import Review

_KEPT: Final = 1 << 14


def instrument_of(record: Record) -> Instrument:
    """An instrument from its record, as `gripwright.neck.instrument_record` makes it.

    Example:
        >>> from gripwright.neck.instrument_record import instrument_record
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345)
        >>> instrument_of(instrument_record(ukulele)) == ukulele
        True

    Raises:
        RecordError: A field is missing, of another type, or out of range.
    """
    strings = [
        InstrumentString(
            open=read(string, "open", str, Pitch.parse),
            scale_mm=read(string, "scale_mm", float),
            first_fret=read(string, "first_fret", int),
            doubles=tuple(read(string, "doubles", list, _pitches)),
        )
        for string in read(record, "strings", list)
    ]
    fields = {
        "id": read(record, "id", str),
        "name": read(record, "name", str),
        "frets": read(record, "frets", int),
        "align_fret": read(record, "align_fret", float),
        "capo": read(record, "capo", int),
    }
    with refusals(""):
        return Instrument(strings=tuple(strings), **fields)


def entry_record(entry: Entry) -> dict[str, Any]:
    """An entry as it was entered, without what is worked out of it."""
    return {
        "id": entry.id,
        "instrument": entry.voicing.instrument.id,
        "chord": str(entry.voicing.chord),
        "frets": entry.voicing.shape,
        "added": to_text(entry.added, name="added"),
        "tags": list(entry.tags),
        "note": entry.note,
        "source": entry.source,
        "state": entry.state,
    }


def grip_of(record: Record, instrument: Instrument) -> Voicing:
    """The grip of an entry's record.

    Raises:
        RecordError: The chord or the frets cannot be read, or are not of the instrument.
    """
    chord = read(record, "chord", str, Chord.parse)
    frets = read(record, "frets", str, lambda text: Shape.parse(text).frets)
    with refusals("frets"):
        return grip_for(chord, instrument, frets)


def entry_of(record: Record, grip: Voicing, facts: Facts) -> Entry:
    """An entry from its record.

    Args:
        record: The record.
        grip: Its grip, as `grip_of` reads it.
        facts: What is worked out of the grip.

    Raises:
        RecordError: A field is missing, of another type, or out of range.
    """
    if read(record, "id", str) != facts.id:
        raise RecordError(field="id", reason=f"expected {facts.id!r}")
    fields = {
        "added": read(record, "added", str, from_text),
        "tags": read(record, "tags", list, texts),
        "note": read(record, "note", str),
        "source": read(record, "source", str),
        "state": read(record, "state", str),
    }
    with refusals(""):
        return Entry(grip, facts=facts, **fields)


def review_record(review: Review) -> dict[str, Any]:
    """A line of the log."""
    return {
        "id": review.id,
        "entry": review.entry_id,
        "grade": review.grade,
        "reviewed_at": to_text(review.reviewed_at, name="reviewed_at"),
    }


def review_of(record: Record) -> Review:
    """A line of the log from its record.

    Raises:
        RecordError: A field is missing, of another type, or out of range.
    """
    fields = {
        "id": read(record, "id", str),
        "entry_id": read(record, "entry", str),
        "grade": read(record, "grade", str),
        "reviewed_at": read(record, "reviewed_at", str, from_text),
    }
    with refusals(""):
        return Review(**fields)


def profile_record(profile: Profile) -> dict[str, Any]:
    """A profile; its instrument by id."""
    return {
        "instrument": profile.instrument.id,
        "fingers": profile.hand.fingers,
        "reach_mm": profile.hand.reach_mm,
        "left_handed": profile.left_handed,
        "stroke": profile.stroke,
        "band": profile.band,
        "ladder": {
            "rung": profile.ladder.rung,
            "part": profile.ladder.part,
            "tempo_bpm": profile.ladder.tempo_bpm,
        },
    }


def profile_of(record: Record, instruments: Mapping[str, Instrument]) -> Profile:
    """A profile from its record; one of before places on the ladder were kept stands at its foot.

    Args:
        record: The record.
        instruments: The instruments by id.

    Raises:
        RecordError: A field is missing, of another type, or out of range.
    """
    name = read(record, "instrument", str)
    if name not in instruments:
        raise RecordError(field="instrument", reason=f"there is no instrument {name!r}")
    band = record.get("band")
    fields = {
        "left_handed": read(record, "left_handed", bool),
        "stroke": read(record, "stroke", str),
        "band": None if band is None else read(record, "band", str),
    }
    with refusals(""):
        hand = Hand(read(record, "fingers", int), read(record, "reach_mm", float))
        return Profile(instruments[name], hand, ladder=_ladder_of(record), **fields)


def _ladder_of(record: Record) -> LadderPlace:
    if record.get("ladder") is None:
        return LadderPlace()
    ladder = read(record, "ladder", dict)
    return LadderPlace(
        rung=read(ladder, "rung", int),
        part=read(ladder, "part", int),
        tempo_bpm=read(ladder, "tempo_bpm", float),
    )


def facts_row(facts: Facts) -> dict[str, Any]:
    """What is worked out of a grip, as the columns of a row."""
    return {
        "category": facts.category,
        "movable": facts.movable,
        "degrees": " ".join(facts.degrees),
        "families": " ".join(facts.families),
        "inversion": facts.inversion,
        "top_degree": str(facts.top_degree),
        "string_set": " ".join(map(str, facts.string_set)),
        "reference": str(Shape(facts.frets)),
    }


def facts_of_row(row: Any) -> Facts:  # noqa: ANN401 - a row of any driver
    """What was worked out, from a row in the order of `FACTS_COLUMNS`."""
    name, category, movable, degrees, families, inversion, top, strings, reference = row
    return Facts(
        id=name,
        category=category,
        movable=bool(movable),
        degrees=_degrees(degrees),
        families=tuple(families.split()),
        inversion=inversion,
        top_degree=_degrees(top)[0],
        string_set=_numbers(strings),
        frets=_frets(reference),
    )


FACTS_COLUMNS: Final = (
    *("id", "category", "movable", "degrees", "families", "inversion", "top_degree"),
    *("string_set", "reference"),
)
"""The columns that `facts_of_row` reads, in order."""


def _pitches(values: list[Any]) -> tuple[Pitch, ...]:
    return tuple(map(Pitch.parse, texts(values)))


@functools.lru_cache(_KEPT)
def _degrees(text: str) -> tuple[Degree, ...]:
    return tuple(map(Degree, text.split()))


@functools.lru_cache(_KEPT)
def _numbers(text: str) -> tuple[int, ...]:
    return tuple(map(int, text.split()))


@functools.lru_cache(_KEPT)
def _frets(text: str) -> tuple[int, ...]:
    return Shape.parse(text).frets
