"""Variety: twenty rows that cover the neck, the families and the top notes."""

from math import sqrt

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import Chord, Voicing, VoicingTable, find_voicings, ranking
from gripwright.neck.diversity import LIKE, NEW, diverse
from tests.core.neck.reference import instrument
from tests.core.neck.searches import Search, searches

GUITAR = instrument("guitar")
FIRST_SCREENS = ("C", "G7", "Dm7", "Cmaj7", "C13")
SCREEN = 20


def ordered(symbol: str) -> VoicingTable:
    """Return all voicings on the standard guitar in the teaching order."""
    return find_voicings(Chord.parse(symbol), GUITAR).order_by(ranking.teaching)


def regions(table: VoicingTable) -> set[int]:
    """Return the stretches of four frets in which the hand of some row begins, to fret 15."""
    lowest = (min((f for f in row if f > 0), default=0) for row in table.frets.tolist())
    return {min(fret, 15) // 4 for fret in lowest}


def tops(table: VoicingTable) -> set[str]:
    """Return the degrees that are on top."""
    return {str(voicing.top_degree) for voicing in table}


def families(table: VoicingTable) -> set[str]:
    """Return the families to which some row belongs."""
    return {name for name, rows in table.families().items() if rows.any()}


def held(voicing: Voicing) -> set[tuple[int, int]]:
    """Return the sounding strings with their frets."""
    return {(string, fret) for string, fret in enumerate(voicing.frets) if fret >= 0}


def near_duplicates(table: VoicingTable) -> int:
    """Count pairs of rows that share all sounding strings but one of the smaller."""
    rows = [held(voicing) for voicing in table]
    return sum(
        len(one & other) >= min(len(one), len(other)) - 1
        for index, one in enumerate(rows)
        for other in rows[:index]
    )


@attrs.frozen
class Row:
    """What variety looks at in one row."""

    waits: float
    families: frozenset[str]
    region: int
    top: int
    strings: tuple[int, ...]
    shape: set[tuple[int, int]]

    def lateness(self, taken: list["Row"]) -> float:
        """Return how late it is after some rows: what it waits, less its gains, and its losses."""
        gains = NEW["family"] * len(self.families - {f for row in taken for f in row.families})
        gains += NEW["region"] * (self.region not in {row.region for row in taken})
        gains += NEW["top"] * (self.top not in {row.top for row in taken})
        losses = 0.0
        for row in taken:
            losses += LIKE["region"] * (row.region == self.region)
            losses += LIKE["top"] * (row.top == self.top)
            losses += LIKE["strings"] * (row.strings == self.strings)
            fewer = min(len(row.shape), len(self.shape))
            losses += LIKE["shape"] * (len(row.shape & self.shape) >= fewer - 1)
        return self.waits - gains + losses


def rows_of(table: VoicingTable) -> dict[tuple[int, ...], Row]:
    """Return the rows of a table by their frets; those past its middle wait by 40 more."""
    found = table.families()
    return {
        voicing.frets: Row(
            sqrt(rank) + 40.0 * (rank > len(table) / 2),
            frozenset(name for name, flags in found.items() if flags[rank]),
            min(min((fret for fret in voicing.frets if fret > 0), default=0), 15) // 4,
            max(voicing.midi) % 12,
            voicing.string_set,
            held(voicing),
        )
        for rank, voicing in enumerate(table)
    }


@pytest.mark.parametrize("some", [1, 2, 10])
@pytest.mark.parametrize("symbol", FIRST_SCREENS)
def test_after_the_first_each_row_is_the_least_late(symbol: str, some: int) -> None:
    """By the definition, over the best rows, every other one or every tenth; until none is left."""
    table = ordered(symbol)[::some][:40]
    left = rows_of(table)
    few = [voicing.frets for voicing in diverse(table, len(table))]
    taken = [left.pop(few[0])]
    for frets in few[1:]:
        lateness = left[frets].lateness(taken)
        assert lateness <= min(row.lateness(taken) for row in left.values()) + 1e-9
        taken.append(left.pop(frets))
    assert not left


@settings(max_examples=30)
@given(search=searches(), count=st.integers(0, 30))
def test_rows_are_distinct_and_the_first_is_the_best(search: Search, count: int) -> None:
    """As many rows as asked for or as there are, each once, the best one first."""
    table = search.find().order_by(ranking.teaching)
    few = diverse(table, count)
    rows = [tuple(row) for row in few.frets.tolist()]
    assert len(rows) == min(count, len(table))
    assert len(set(rows)) == len(rows)
    assert set(rows) <= {tuple(row) for row in table.frets.tolist()}
    assert rows[:1] == [tuple(row) for row in table.frets[: min(count, 1)].tolist()]


@settings(max_examples=30)
@given(search=searches(), fewer=st.integers(0, 12), more=st.integers(0, 12))
def test_asking_for_more_only_adds(search: Search, fewer: int, more: int) -> None:
    """A shorter list is the beginning of a longer one."""
    table = search.find().order_by(ranking.teaching)
    longer = diverse(table, fewer + more).frets.tolist()
    assert diverse(table, fewer).frets.tolist() == longer[:fewer]


@pytest.mark.parametrize("symbol", FIRST_SCREENS)
def test_twenty_rows_cover_the_neck(symbol: str) -> None:
    """Some row begins in every four frets from the nut to fifteen; the plain order stays lower."""
    table = ordered(symbol)
    covered = regions(diverse(table, SCREEN))
    assert covered == {0, 1, 2, 3}
    assert covered >= regions(table[:SCREEN])


@pytest.mark.parametrize("symbol", FIRST_SCREENS)
def test_twenty_rows_cover_the_top_notes(symbol: str) -> None:
    """Every degree of the chord that can be on top is on top of some row."""
    table = ordered(symbol)
    covered = tops(diverse(table, SCREEN))
    assert covered == tops(table)
    assert covered >= tops(table[:SCREEN])


@pytest.mark.parametrize("symbol", FIRST_SCREENS)
def test_twenty_rows_cover_the_families(symbol: str) -> None:
    """Every family of which a normal hand (90 mm) holds ten or more is among them."""
    table = ordered(symbol)
    easy = table.where(reach_mm=lambda reach: reach <= 90.0)
    usual = {name for name, rows in easy.families().items() if rows.sum() >= 10}
    covered = families(diverse(table, SCREEN))
    assert covered >= usual


@pytest.mark.parametrize("symbol", FIRST_SCREENS)
def test_twenty_rows_are_thinned(symbol: str) -> None:
    """Far fewer pairs are near-duplicates than in the plain order, and no family is lost."""
    table = ordered(symbol)
    few, plain = diverse(table, SCREEN), table[:SCREEN]
    assert near_duplicates(few) * 5 <= near_duplicates(plain)
    assert families(few) >= families(plain)
    assert len({voicing.string_set for voicing in few}) >= 8


@pytest.mark.parametrize("symbol", FIRST_SCREENS)
def test_variety_stays_with_what_a_teacher_would_show(symbol: str) -> None:
    """No row spreads the fingers over more than seven frets, however near those lie (ours)."""
    for voicing in diverse(ordered(symbol), SCREEN):
        fretted = [fret for fret in voicing.frets if fret > 0]
        assert max(fretted, default=0) - min(fretted, default=0) <= 6, voicing.shape
