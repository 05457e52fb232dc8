"""Reading instruments from their definitions, which are rows of TOML."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any, Final, cast

from gripwright import Instrument, InstrumentString, Pitch

if TYPE_CHECKING:
    from collections.abc import Mapping

_NEEDED: Final = frozenset({"id", "name", "strings", "frets", "scale_mm"})
_OPTIONAL: Final = frozenset({"align_fret", "doubles", "first_fret"})
_KINDS: Final[Mapping[str, tuple[type, ...]]] = {
    "id": (str,),
    "name": (str,),
    "strings": (str,),
    "frets": (int,),
    "scale_mm": (int, float),
    "first_fret": (int,),
    "doubles": (str,),
    "align_fret": (int, float),
}
"""What each value is, or each of several."""

_TABLES: Final = frozenset({"doubles", "first_fret"})
_LISTS: Final = frozenset({"scale_mm"})
_LARGEST: Final = 1_000_000


def read_instruments(text: str) -> tuple[Instrument, ...]:
    """Read instruments from TOML.

    Args:
        text: An array of tables ``instrument``, each with ``id``, ``name``, ``strings`` (pitches as
            strung, from the bass side), ``frets`` and ``scale_mm`` (millimetres; one length, or one
            a string). It may have ``first_fret`` and ``doubles``, tables by the number of the
            string (1 on the treble side), and ``align_fret``.

    Returns:
        The instruments, in the order of the text.

    Raises:
        ValueError: The text is not TOML, a row has unknown or missing keys, or a pitch is wrong.

    Example:
        >>> (own,) = read_instruments('''
        ... [[instrument]]
        ... id = "two-course"
        ... name = "two courses"
        ... strings = "C3 G3"
        ... frets = 12
        ... scale_mm = 500
        ... doubles = { 2 = "C4" }
        ... ''')
        >>> own.strings[0].doubles == (Pitch.parse("C4"),)
        True
    """
    rows = tomllib.loads(text).get("instrument", [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise ValueError("instrument is no array of tables")
    return tuple(map(_instrument, rows))


def _fits(key: str, value: object) -> bool:
    """Whether a value is what its key takes: a table, a list where there may be one, or alone."""
    if key in _TABLES:
        return isinstance(value, dict) and all(_fits_alone(key, one) for one in value.values())
    if key in _LISTS and isinstance(value, list):
        return all(_fits_alone(key, one) for one in value)
    return _fits_alone(key, value)


def _fits_alone(key: str, value: object) -> bool:
    if type(value) not in _KINDS[key]:
        return False
    return isinstance(value, str) or abs(cast("float", value)) < _LARGEST


def _instrument(row: Mapping[str, Any]) -> Instrument:
    wrong = sorted((_NEEDED - row.keys()) | (row.keys() - _NEEDED - _OPTIONAL))
    if wrong:
        raise ValueError(f"instrument {row.get('id')!r}: missing or unknown {', '.join(wrong)}")
    for key, value in row.items():
        if not _fits(key, value):
            raise ValueError(f"instrument {row['id']!r}: {key} cannot be {value!r}")
    pitches = [Pitch.parse(text) for text in row["strings"].split()]
    lengths = row["scale_mm"]
    if not isinstance(lengths, list):
        lengths = [lengths] * len(pitches)
    if len(lengths) != len(pitches):
        raise ValueError(
            f"instrument {row['id']!r}: {len(lengths)} lengths for {len(pitches)} strings"
        )
    first_frets, doubles = row.get("first_fret", {}), row.get("doubles", {})
    unstrung = {*first_frets, *doubles} - {str(number + 1) for number in range(len(pitches))}
    if unstrung:
        raise ValueError(f"instrument {row['id']!r}: there is no string {min(unstrung)}")
    strings: list[InstrumentString] = []
    for index, (pitch, length) in enumerate(zip(pitches, lengths, strict=True)):
        number = str(len(pitches) - index)
        strings.append(
            InstrumentString(
                open=pitch,
                scale_mm=float(length),
                first_fret=first_frets.get(number, 0),
                doubles=tuple(Pitch.parse(text) for text in doubles.get(number, "").split()),
            )
        )
    return Instrument(
        id=row["id"],
        name=row["name"],
        strings=tuple(strings),
        frets=row["frets"],
        align_fret=float(row.get("align_fret", 0)),
    )
