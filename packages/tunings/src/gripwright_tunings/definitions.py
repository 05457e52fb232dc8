"""Reading instruments from their definitions, which are rows of TOML."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any, Final

from gripwright import Instrument, InstrumentString, Pitch

if TYPE_CHECKING:
    from collections.abc import Mapping

_NEEDED: Final = frozenset({"id", "name", "strings", "frets", "scale_mm"})
_OPTIONAL: Final = frozenset({"align_fret", "doubles", "first_fret"})


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
    return tuple(_instrument(row) for row in tomllib.loads(text).get("instrument", ()))


def _instrument(row: Mapping[str, Any]) -> Instrument:
    wrong = sorted((_NEEDED - row.keys()) | (row.keys() - _NEEDED - _OPTIONAL))
    if wrong:
        raise ValueError(f"instrument {row.get('id')!r}: missing or unknown {', '.join(wrong)}")
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
