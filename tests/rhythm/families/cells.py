"""The cells of comping under ``tests/data``, read as exact onsets and lengths."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import attrs

from gripwright import Meter

DATA = Path(__file__).parents[2] / "data"


@attrs.frozen
class CellRow:
    """A row of the table.

    Args:
        cell: What it is called.
        meter: Its metre.
        attacks: Onset and length of each attack in quarters; no length where none is fixed.
        bass: Onsets of the bass, in quarters.
        accents: Accented onsets, in quarters.
        family: The family that plays it.
        pattern: The name of its pattern.
    """

    cell: str
    meter: Meter
    attacks: tuple[tuple[Fraction, Fraction | None], ...]
    bass: tuple[Fraction, ...]
    accents: tuple[Fraction, ...]
    family: str
    pattern: str


def cell_rows() -> Iterator[CellRow]:
    """Every row."""
    lines = (DATA / "cells.tsv").read_text(encoding="utf-8").splitlines()
    names = lines[1].split("\t")
    for line in lines[2:]:
        row = dict(zip(names, line.split("\t"), strict=True))
        meter = Meter.parse(row["meter"])
        unit = meter.pulse if row["counts"] == "beats" else Fraction(1, 2)
        yield CellRow(
            row["cell"],
            meter,
            tuple(_attacks(row["attacks"], meter, unit)),
            tuple(onset for onset, _ in _attacks(row["bass"], meter, unit)),
            tuple((Fraction(beat) - 1) * unit for beat in row["accents"].split()),
            row["family"],
            row["pattern"],
        )


def _attacks(text: str, meter: Meter, unit: Fraction) -> Iterator[tuple[Fraction, Fraction | None]]:
    for bar, written in enumerate(text.split("|")):
        start = bar * meter.length
        if "(" in written:
            for onset, length in re.findall(r"\(([^,]*),([^)]*)\)", written):
                yield start + (Fraction(onset) - 1) * unit, Fraction(length) * unit
        elif written:
            for word in written.split(","):
                # A mark stands for the bar after.
                later = meter.length if word.endswith("'") else 0
                yield start + later + (Fraction(word.rstrip("'")) - 1) * unit, None
