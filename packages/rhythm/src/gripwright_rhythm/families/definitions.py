"""Reading rhythm families from their definitions, which are rows of TOML."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from typing import Any, Final

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import MadeFamily, Meter, MeterSet, RhythmPattern, WrittenFamily
from gripwright.meter.pattern import USUAL_DYNAMIC

_FAMILY: Final = (frozenset({"name", "summary", "pattern"}), frozenset[str]())
_PATTERN: Final = (
    frozenset({"name", "meter", "summary", "text"}),
    frozenset({"dynamic", "bass", "later"}),
)
_ROWS: Final = frozenset({"pattern", "later"})
_LATER: Final = (frozenset({"text"}), frozenset({"dynamic"}))


def read_families(text: str) -> tuple[WrittenFamily, ...]:
    """Read rhythm families from TOML.

    Args:
        text: An array of tables ``family``, each with ``name``, ``summary`` and an array of tables
            ``pattern``: ``name``, ``meter``, ``summary`` and ``text``, the attacks as
            `gripwright.RhythmPattern` reads them. A pattern may have ``dynamic`` (1 to 127),
            ``bass`` (attacks again, for one bar or for all) and ``later``, an array of tables
            with ``text`` and ``dynamic``: what the second chorus plays, and the third, and so on.

    Returns:
        The families, in the order of the text.

    Raises:
        ConditionError: A row has unknown or missing keys, or attacks that do not stand together.
        NotationError: The text of a pattern or a metre cannot be read.
        ValueError: The text is not TOML.

    Example:
        >>> (family,) = read_families('''
        ... [[family]]
        ... name = "own"
        ... summary = "One of our own."
        ... [[family.pattern]]
        ... name = "own-2"
        ... meter = "3/4"
        ... summary = "2 alone."
        ... text = "2'"
        ... ''')
        >>> [pattern.name for pattern in family.patterns(Meter(3, 4))]
        ['own-2']
    """
    return tuple(map(_family, _tables(tomllib.loads(text), "family")))


def families_when_asked(text: str) -> tuple[MadeFamily, ...]:
    """The families of a text whose patterns are read when they are first asked for.

    Plugins are asked for their families at every start, and most starts play no rhythm.

    Args:
        text: As `read_families` takes it.

    Raises:
        NotationError: A metre cannot be read.
        ValueError: The text is not TOML.
    """
    return tuple(_when_asked(row) for row in tomllib.loads(text)["family"])


def _when_asked(row: Mapping[str, Any]) -> MadeFamily:
    meters = MeterSet.of(Meter.parse(pattern["meter"]) for pattern in row["pattern"])
    whole = functools.cache(lambda: _family(row))
    return MadeFamily(
        row["name"], row["summary"], meters, lambda meter, _seed: whole().patterns(meter)
    )


def _family(row: Mapping[str, Any]) -> WrittenFamily:
    _check_keys("family", row, *_FAMILY)
    return WrittenFamily(row["name"], row["summary"], map(_pattern, _tables(row, "pattern")))


def _pattern(row: Mapping[str, Any]) -> RhythmPattern:
    _check_keys("pattern", row, *_PATTERN)
    meter = Meter.parse(row["meter"])
    first = RhythmPattern.parse(
        row["text"],
        meter,
        name=row["name"],
        summary=row["summary"],
        dynamic=row.get("dynamic", USUAL_DYNAMIC),
        bass=row.get("bass", ""),
    )
    if "later" not in row:
        return first
    later = [
        _chorus(chorus, number, first, row.get("bass", ""))
        for number, chorus in enumerate(_tables(row, "later"), 2)
    ]
    return attrs.evolve(first, later=later)


def _chorus(row: Mapping[str, Any], number: int, first: RhythmPattern, bass: str) -> RhythmPattern:
    _check_keys("chorus", row, *_LATER)
    return RhythmPattern.parse(
        row["text"],
        first.meter,
        name=f"{first.name}-chorus-{number}",
        summary=first.summary,
        dynamic=row.get("dynamic", first.dynamic),
        bass=bass,
    )


def _tables(row: Mapping[str, Any], key: str) -> list[Mapping[str, Any]]:
    """The tables under a key, none where it is missing."""
    tables = row.get(key, [])
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        raise ConditionError(name=key, value=tables, expected="an array of tables")
    return tables


def _check_keys(
    what: str, row: Mapping[str, Any], needed: frozenset[str], optional: frozenset[str]
) -> None:
    wrong = sorted((needed - row.keys()) | (row.keys() - needed - optional))
    if wrong:
        raise ConditionError(
            name=f"keys of {what} {row.get('name', '')!r}",
            value=", ".join(sorted(row)),
            expected=f"{', '.join(sorted(needed))}; missing or unknown: {', '.join(wrong)}",
        )
    for key, value in row.items():
        # The tables below have a check of their own.
        kind = int if key == "dynamic" else str
        if key not in _ROWS and type(value) is not kind:
            expected = "a whole number" if kind is int else "text"
            raise ConditionError(name=f"{key} of {what}", value=value, expected=expected)
