"""The tables of reference under ``tests/data``, and instruments made from them.

The instruments are built here from the rows themselves, so that the search is tested without any
plugin.
"""

import csv
from pathlib import Path

from gripwright import Instrument, InstrumentString, Pitch
from tests.core.neck.enumerator import MUTED, Tones

DATA = Path(__file__).parents[2] / "data"

# The fifth string of the banjo starts at its fifth fret; tunings.tsv says so in words only.
_FIRST_FRETS = {"banjo": (5, 0, 0, 0, 0)}

CMAJ7 = Tones(
    root=0,
    names={0: "1", 4: "3", 7: "5", 11: "7"},
    essential=(frozenset({4}), frozenset({11})),
)
"""Cmaj7 written out by hand from the definitions, without the reader of chord symbols."""


def rows(name: str) -> list[dict[str, str]]:
    """Return the rows of a table, past its opening remark."""
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader((line for line in lines if line[:1] != "#"), delimiter="\t"))


def instrument(name: str, *, frets: int | None = None) -> Instrument:
    """Return an instrument of tunings.tsv, with its neck cut short if asked."""
    row = next(row for row in rows("tunings.tsv") if row["id"] == name)
    opens = row["strings"].split()
    scale_mm = float(row["scale_mm"])
    firsts = _FIRST_FRETS.get(name, (0,) * len(opens))
    return Instrument(
        id=name,
        name=row["instrument"],
        strings=tuple(
            InstrumentString(Pitch.parse(text), scale_mm=scale_mm, first_fret=first)
            for text, first in zip(opens, firsts, strict=True)
        ),
        frets=int(row["frets"]) if frets is None else frets,
    )


def frets_of(shape: str) -> tuple[int, ...]:
    """Return a shape such as ``x-3-5-4-5-x`` as frets."""
    return tuple(MUTED if part == "x" else int(part) for part in shape.split("-"))
