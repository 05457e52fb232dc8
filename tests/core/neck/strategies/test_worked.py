"""Strategies against worked voicings and published fret spans.

Outside references: tables of worked voicings and of the smallest fret spans of four-note families
by string set, both common practice, with pitches and spans computed.
"""

import functools

import pytest

from gripwright import Chord, Hand, VoicingTable, find_voicings, load_registry
from gripwright.neck.strategies import BUILTIN_STRATEGIES
from tests.core.neck.reference import frets_of, instrument, rows

WORKED = rows("voicings.tsv")
STRATEGIES = {strategy.name: strategy for strategy in BUILTIN_STRATEGIES}

# A hand large enough for every worked voicing: F-C-A-E on frets 1-3-2-5 asks for 126 mm.
LARGE_HAND = Hand(reach_mm=130.0)

SMALLEST_SPANS = {
    "close": {"5432": 3, "4321": 3, "6543": 4},
    "drop-2": {"6543": 2, "5432": 2, "4321": 2, "5321": 3, "6432": 4},
    "drop-3": {"6432": 1, "5321": 2},
    "drop-2-4": {"6531": 3, "6421": 3, "6532": 4, "6431": 4, "5421": 4},
    "drop-2-3": {"6542": 2, "5431": 2, "5421": 3, "6532": 4},
    "double-drop": {"6431": 4, "6421": 4},
}
"""Highest less lowest fret of Cmaj7 in root position, all strings fretted, by string set: every
set on which it is at most 4. Common practice, computed."""


@functools.cache
def found_by(symbol: str, strategy: str) -> VoicingTable:
    """Return what a strategy finds for a chord on the standard guitar under a large hand."""
    guitar = instrument("guitar")
    return find_voicings(Chord.parse(symbol), guitar, LARGE_HAND, STRATEGIES[strategy])


@pytest.mark.parametrize("row", WORKED, ids=lambda row: f"{row['chord']} {row['frets']}")
def test_worked_voicings_are_found_by_their_strategy(row: dict[str, str]) -> None:
    """Each stands in its strategy's set as the table has it, and is classified under its name."""
    table = found_by(row["chord"], row["strategy"])
    at = table.frets.tolist().index(list(frets_of(row["frets"])))
    voicing = table[at]
    assert " ".join(map(str, voicing.pitches)) == row["notes"]
    assert " ".join(voicing.degrees) == row["degrees"]
    assert row["inversion"] in {"", voicing.inversion}
    if row["strategy"] != "any":
        assert row["strategy"] in voicing.families
        assert table.families()[row["strategy"]][at]


def test_the_table_tries_every_family_but_few() -> None:
    """What the table of worked voicings does not hold is held by the laws instead."""
    untried = set(STRATEGIES) - {row["strategy"] for row in WORKED}
    assert untried == {"drop-2-3", "triads", "cluster", "octave-doubled"}


@pytest.mark.parametrize("name", SMALLEST_SPANS)
def test_smallest_fret_spans_are_the_published_ones(name: str) -> None:
    """Cmaj7 in root position: the spans by string set, and no other set under a span of four."""
    table = find_voicings(
        Chord.parse("Cmaj7"),
        instrument("guitar"),
        Hand(reach_mm=400.0),
        STRATEGIES[name],
        bass_degree="1",
        no_open=True,
    )
    spans: dict[str, int] = {}
    for voicing in table:
        fretted = [fret for fret in voicing.frets if fret > 0]
        strings = "".join(map(str, voicing.string_set))
        spans[strings] = min(spans.get(strings, 99), max(fretted) - min(fretted))
    assert {strings: span for strings, span in spans.items() if span <= 4} == SMALLEST_SPANS[name]


@pytest.mark.parametrize(
    ("strategy", "shape"), [("shell", "x-3-2-3-x-x"), ("guide-tones", "x-x-2-3-x-x")]
)
def test_frames_stand_for_chords_with_tensions(strategy: str, shape: str) -> None:
    """C13 is comped with the shell of C7, without its 13 (common practice)."""
    assert frets_of(shape) in [voicing.frets for voicing in found_by("C13", strategy)]
    assert len(found_by("C13", strategy)) == len(found_by("C7", strategy))


@pytest.mark.parametrize(
    ("symbol", "strategy", "shape"),
    [
        # 7-3-13-9 and 3-7-9-13, the drop 2 of both types, and 3-13-7-9 close.
        ("G7", "rootless", "x-x-3-4-5-5"),
        ("G7", "rootless", "x-2-3-2-5-x"),
        ("G7", "rootless", "x-x-9-9-6-5"),
        # Above b7 and 3, and above 3 and b7.
        ("G7", "upper-structure", "x-x-3-4-5-4"),
        ("G7", "upper-structure", "x-x-9-10-9-12"),
    ],
)
def test_tensions_are_added_where_the_symbol_is_plain(
    symbol: str, strategy: str, shape: str
) -> None:
    """G7 is comped with the 9, b9 and 13 that its symbol does not name (common practice)."""
    table = found_by(symbol, strategy)
    voicing = table[table.frets.tolist().index(list(frets_of(shape)))]
    assert set(voicing.added) & {"9", "b9", "13"}


def test_every_built_in_strategy_comes_through_the_public_hook() -> None:
    """The registry gives all of the issue's names, each with a sentence for players."""
    registry = load_registry(strict=True)
    assert set(registry.strategies) == {
        *("close", "drop-2", "drop-3", "drop-2-4", "drop-2-3", "double-drop", "shell"),
        *("guide-tones", "rootless", "spread", "triads", "quartal", "cluster"),
        *("upper-structure", "triad-over-bass", "octave-doubled", "any"),
    }
    assert all(strategy.summary for strategy in registry.strategies.values())
