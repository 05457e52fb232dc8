"""Every rhythm cell of the trade (common practice) is a pattern, exact to the fraction."""

import pytest

from gripwright import RhythmPattern
from gripwright_rhythm.families import families
from tests.rhythm.families.cells import CellRow, cell_rows

ROWS = tuple(cell_rows())


def pattern_of(row: CellRow) -> RhythmPattern:
    """The pattern that plays a row."""
    (family,) = (family for family in families() if family.name == row.family)
    (found,) = (
        pattern for pattern in family.patterns(row.meter, seed=0) if pattern.name == row.pattern
    )
    return found


def test_the_table_is_whole() -> None:
    """Every row is read."""
    assert len(ROWS) == 31


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.cell)
def test_cells(row: CellRow) -> None:
    """Onsets are those of the practice, and so are lengths where it fixes them."""
    pattern = pattern_of(row)
    assert pattern.meter == row.meter
    # What passes the end of the pattern comes round to its start.
    expected = sorted((onset % pattern.length, length) for onset, length in row.attacks)
    onsets = [attack.onset for attack in pattern.attacks]
    assert onsets == [onset for onset, _ in expected]
    lengths = {
        onset: pattern.sounding(attack, until)
        for onset, attack, until in zip(
            onsets,
            pattern.attacks,
            [*onsets[1:], onsets[0] + pattern.length],
            strict=True,
        )
    }
    for onset, length in expected:
        assert length is None or lengths[onset] == length


@pytest.mark.parametrize("row", [row for row in ROWS if row.bass], ids=lambda row: row.cell)
def test_bass(row: CellRow) -> None:
    """The bass stands where the practice has it."""
    assert tuple(attack.onset for attack in pattern_of(row).bass) == row.bass


@pytest.mark.parametrize("row", [row for row in ROWS if row.accents], ids=lambda row: row.cell)
def test_accents(row: CellRow) -> None:
    """The accents are those of the practice, and no others."""
    accented = [attack.onset for attack in pattern_of(row).attacks if attack.accent]
    assert accented == list(row.accents)


def test_displacements_come_in_order() -> None:
    """The dotted cell starts on each eighth of the bar in turn, eight times."""
    (family,) = (family for family in families() if family.name == "dotted")
    rows = [row for row in ROWS if row.cell.startswith("displacement")]
    names = [pattern.name for pattern in family.patterns(rows[0].meter, seed=0)]
    assert names == [row.pattern for row in rows]
    assert len(names) == 8


def test_anticipations_are_for_the_chord_of_the_next_beat() -> None:
    """They push, and nothing else of the table does."""
    pushing = {row.cell for row in ROWS if any(attack.push for attack in pattern_of(row).attacks)}
    assert pushing == {"anticipation of the next bar", "anticipation of beat 3"}
