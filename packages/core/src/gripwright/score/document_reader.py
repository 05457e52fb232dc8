"""Scores read back from their JSON document, and where a text is none."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any, Final, TypeVar

import attrs

from gripwright.errors import ConditionError, GripwrightError, ScoreError
from gripwright.meter import Meter
from gripwright.neck.instrument import Instrument, InstrumentString
from gripwright.neck.voicing import Voicing
from gripwright.score.document import SCHEMA
from gripwright.score.event import ChordEvent, ClickEvent, NoteEvent
from gripwright.score.score import ChordChange, Chorus, Score, ScoreBar
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.pitch import Pitch
from gripwright.tune.key import Key

LONGEST_TEXT: Final = 64 * 1024 * 1024
"""Characters that a document holds at most."""

_TIME: Final = re.compile(r"-?[0-9]{1,60}(?:/[1-9][0-9]{0,59})?", re.ASCII)
"""An exact time, as `str` writes a `Fraction`: no exponent, which a few signs make endless."""

T = TypeVar("T")

_Row = dict[str, Any]

_FLAGS: Final = ("accent", "push", "approach", "short")


def read_score(text: str) -> Score:
    """Read a score back from its document.

    Args:
        text: What `score_document` wrote.

    Returns:
        The score, equal to the one written.

    Raises:
        ScoreError: The text is no such document, or one of another version; says where in it.

    Example:
        >>> read_score('{"schema": "gripwright/score/9"}')
        Traceback (most recent call last):
        ...
        gripwright.errors.ScoreError: cannot read score at /schema: it is 'gripwright/score/9' \
(expected 'gripwright/score/1')
    """
    if len(text) > LONGEST_TEXT:
        raise ScoreError(
            pointer="", found=f"{len(text):,} characters", expected=f"at most {LONGEST_TEXT:,}"
        )
    try:
        document = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise ScoreError(pointer="", found=f"no JSON: {error}", expected="a document") from None
    reader = _Reader(document)
    schema = reader.value("schema", str)
    if schema != SCHEMA:
        raise ScoreError(pointer="/schema", found=f"it is {schema!r}", expected=repr(SCHEMA))
    instrument = reader.one("instrument", _instrument)
    grips = reader.many("grips", lambda row: _grip(row, instrument))
    try:
        return Score(
            instrument=instrument,
            bars=reader.many("bars", _bar),
            choruses=reader.many("choruses", _chorus),
            changes=reader.many("changes", lambda row: _change(row, grips)),
            events=reader.many("events", lambda row: _event(row, grips)),
            clicks=reader.many("clicks", _click),
            bass=reader.many("bass", _note),
            root=reader.many("root", _note),
            title=reader.value("title", str, type(None)),
            rhythm=reader.value("rhythm", str),
            click=reader.value("click", str),
            notes=reader.texts("notes"),
        )
    except ConditionError as error:
        raise ScoreError(pointer="", found=str(error), expected="a score that holds") from error


def _event(row: _Row, grips: tuple[Voicing, ...]) -> ChordEvent:
    voicing = _gripped(row, grips)
    if row["chord"] != str(voicing.chord):
        raise ValueError(f"chord {row['chord']!r} beside a grip of {voicing.chord}")
    return ChordEvent(
        onset=_time(row["onset"]),
        end=_time(row["end"]),
        voicing=voicing,
        bar=_whole(row["bar"]),
        beat=_time(row["beat"]),
        dynamic=_whole(row["dynamic"]),
        stroke=row["stroke"],
        **{name: _flag(row, name) for name in _FLAGS},
    )


def _gripped(row: _Row, grips: tuple[Voicing, ...]) -> Voicing:
    place = row["grip"]
    if isinstance(place, bool) or not isinstance(place, int) or not 0 <= place < len(grips):
        raise ValueError(f"grip {place!r} of {len(grips)}")
    return grips[place]


def _grip(row: _Row, instrument: Instrument) -> Voicing:
    chord = Chord.parse(row["chord"])
    frets = tuple(-1 if fret is None else _fret(fret) for fret in _rows(row["frets"]))
    if len(frets) != len(instrument.strings):
        raise ValueError(f"{len(frets)} frets on {len(instrument.strings)} strings")
    for string, fret in enumerate(frets):
        if fret > instrument.frets or 0 < fret < instrument.lowest_press(string):
            raise ValueError(f"fret {fret} on a string of {instrument.id}")
    if "names" not in row:
        voicing = Voicing(chord, instrument, frets)
    else:
        names = tuple(None if name is None else Degree(name) for name in _rows(row["names"]))
        if len(names) != len(chord.names):
            raise ValueError(f"{len(names)} names for {len(chord.names)} pitch classes")
        voicing = Voicing(chord, instrument, frets, names)
    # A grip that holds a tone of no name is refused here and not when it is drawn.
    assert voicing.degrees is not None  # noqa: S101 - the look-up itself raises ValueError
    return voicing


def _note(row: _Row) -> NoteEvent:
    return NoteEvent(
        onset=_time(row["onset"]),
        end=_time(row["end"]),
        pitch=Pitch.parse(row["pitch"]),
        bar=_whole(row["bar"]),
        beat=_time(row["beat"]),
        dynamic=_whole(row["dynamic"]),
    )


def _click(row: _Row) -> ClickEvent:
    return ClickEvent(
        _time(row["onset"]),
        _whole(row["bar"]),
        _time(row["beat"]),
        _flag(row, "accent"),
    )


def _bar(row: _Row) -> ScoreBar:
    return ScoreBar(
        number=_whole(row["number"]),
        onset=_time(row["onset"]),
        meter=Meter.parse(row["metre"]),
        length=_time(row["length"]),
        chorus=_whole(row["chorus"]),
        section=None if row.get("section") is None else _text(row["section"]),
        ending=_flag(row, "ending"),
        lead_in=_time(row.get("lead_in", "0")),
    )


def _chorus(row: _Row) -> Chorus:
    return Chorus(
        number=_whole(row["number"]),
        onset=_time(row["onset"]),
        end=_time(row["end"]),
        tempo_bpm=_time(row["tempo_bpm"]),
        swing=_time(row["swing"]),
        key=None if row["key"] is None else Key.parse(row["key"]),
    )


def _change(row: _Row, grips: tuple[Voicing, ...]) -> ChordChange:
    chord = row["chord"]
    return ChordChange(
        _time(row["onset"]),
        _time(row["end"]),
        None if chord is None else Chord.parse(chord),
        _gripped(row, grips) if "grip" in row else None,
    )


def _instrument(row: _Row) -> Instrument:
    return Instrument(
        id=_text(row["id"]),
        name=_text(row["name"]),
        strings=tuple(
            InstrumentString(
                Pitch.parse(string["open"]),
                _number(string["scale_mm"]),
                _whole(string["first_fret"]),
                tuple(Pitch.parse(pitch) for pitch in _rows(string["doubles"])),
            )
            for string in _rows(row["strings"])
        ),
        frets=_whole(row["frets"]),
        align_fret=_number(row["align_fret"]),
        capo=_whole(row["capo"]),
    )


def _time(text: object) -> Fraction:
    if not isinstance(text, str) or _TIME.fullmatch(text) is None:
        raise TypeError(f"{text!r} where a fraction in quotes was expected")
    return Fraction(text)


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{value!r} where a text was expected")
    return value


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(f"{value!r} where a number was expected")
    return value


def _rows(value: object) -> list[Any]:
    if not isinstance(value, list):
        raise TypeError(f"{value!r} where a list was expected")
    return value


def _flag(row: _Row, name: str) -> bool:
    value = row.get(name, False)
    if not isinstance(value, bool):
        raise TypeError(f"{value!r} where {name} is true or false")
    return value


def _fret(value: object) -> int:
    fret = _whole(value)
    if fret < 0:
        raise ValueError(f"fret {fret}, where null stands for a muted string")
    return fret


def _whole(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise TypeError(f"{value!r} where a whole number was expected")
    return value


@attrs.frozen
class _Reader:
    """Reads the parts of a document and says where it cannot."""

    document: Any

    def value(self, name: str, *kinds: type) -> Any:  # noqa: ANN401 - of one of the kinds
        found = self.document.get(name, ...) if isinstance(self.document, dict) else ...
        if found is ...:
            raise ScoreError(pointer=f"/{name}", found="it is missing", expected="a score")
        if not isinstance(found, kinds):
            words = " or ".join(kind.__name__ for kind in kinds)
            raise ScoreError(pointer=f"/{name}", found=f"a {type(found).__name__}", expected=words)
        return found

    def texts(self, name: str) -> tuple[str, ...]:
        found = self.value(name, list)
        for place, text in enumerate(found):
            if not isinstance(text, str):
                raise ScoreError(
                    pointer=f"/{name}/{place}", found=f"a {type(text).__name__}", expected="str"
                )
        return tuple(found)

    def one(self, name: str, read: Callable[[_Row], T]) -> T:
        return self._read(self.value(name, dict), read, f"/{name}")

    def many(self, name: str, read: Callable[[_Row], T]) -> tuple[T, ...]:
        return tuple(
            self._read(row, read, f"/{name}/{place}")
            for place, row in enumerate(self.value(name, list))
        )

    @staticmethod
    def _read(row: _Row, read: Callable[[_Row], T], pointer: str) -> T:
        try:
            return read(row)
        except (GripwrightError, ArithmeticError, AttributeError) as error:
            fault = str(error)
        except KeyError as error:
            fault = f"it has no {error.args[0]!r}"
        except (TypeError, ValueError) as error:
            fault = str(error)
        raise ScoreError(pointer=pointer, found=fault, expected="as score_document writes it")
