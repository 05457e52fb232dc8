"""Laws of the ladder, in any metre."""

from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import ConditionError, Meter, RhythmPattern
from gripwright.laws.drawing import meters
from gripwright_rhythm.ladder import RUNGS, Rung, place_rows
from gripwright_rhythm.place import places
from tests.rhythm.few import few

LONGEST, SHORTEST = Meter(64, 1), Meter(1, 32)


@given(st.sampled_from(RUNGS), meters(), st.integers())
@example(RUNGS[21], LONGEST, 0)
@example(RUNGS[21], Meter(33, 32), 0)
@example(RUNGS[31], LONGEST, 0)
@example(RUNGS[0], SHORTEST, 0)
def test_a_rung_fits_or_says_which_metres_it_is_for(rung: Rung, meter: Meter, seed: int) -> None:
    """Either drills, all in the metre and with clicks that it has, or a refusal by name."""
    try:
        parts = rung.parts(meter, seed=seed)
    except ConditionError as error:
        assert not rung.fits(meter)
        assert error.name == f"metre of rung {rung.number}"
        assert error.expected.startswith("a metre ")
        return
    assert rung.fits(meter)
    assert parts == rung.parts(meter, seed=seed)
    # No drill stands twice in a rung.
    assert len({(str(part.pattern), part.click) for part in parts}) == len(parts)
    for part in parts:
        assert part.click.beats_in(meter, 0)
        if part.pattern is not None:
            assert part.pattern.meter == meter
            assert sum(cell.length for cell in part.pattern.cells) == part.pattern.length
            back = RhythmPattern.parse(str(part.pattern), meter)
            assert (back.attacks, back.bars) == (part.pattern.attacks, part.pattern.bars)


@few
@given(meters())
def test_the_overview_shows_every_place_long_and_short(meter: Meter) -> None:
    """One row a place; both patterns sound from there, the short one to the beat after."""
    rows = place_rows(meter)
    assert [row.place for row in rows] == list(places(meter))
    for row in rows:
        onset = meter.onset_of(row.place.beat)
        for pattern in (row.long, row.short):
            assert [attack.onset for attack in pattern.attacks] == [onset]
        assert sum(cell.length for cell in row.long.cells if cell.attack) == meter.length
        (short,) = (cell for cell in row.short.cells if cell.attack)
        assert (short.onset + short.length) % meter.pulse == 0
        assert short.length <= meter.pulse
