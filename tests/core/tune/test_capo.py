"""Charts behind a capo. The keys are common practice."""

from __future__ import annotations

import pytest

from gripwright import Chart, ConditionError
from gripwright.tune.capo import capo_chart


@pytest.mark.parametrize(
    ("sounding", "capo", "played"),
    [
        ("key: Ab\n| Abmaj7 Fm7 | Bbm7 Eb7/G |", 1, "key: G\n| Gmaj7 Em7 | Am7 D7/F# |"),
        ("key: Bb\n| Bb Gm | Eb F7 |", 3, "key: G\n| G Em | C D7 |"),
        ("key: F#\n| F# D#m | B C#7/E# |", 2, "key: E\n| E C#m | A B7/D# |"),
        ("key: Ebm\n| Ebm Cb Db7 |", 6, "key: Am\n| Am F G7 |"),
        ("| Bb Gm Eb F7/A |", 1, "| A F#m D E7/G# |"),
        ("key: C\n| C Am |", 0, "key: C\n| C Am |"),
    ],
)
def test_grips_are_named_in_the_key_of_the_hand(sounding: str, capo: int, played: str) -> None:
    """All lower by the capo, with few accidentals."""
    chart = capo_chart(Chart.parse(sounding), capo)
    assert str(chart.played) == played
    assert str(chart.sounding) == sounding


def test_symbols_stand_in_pairs() -> None:
    """One a chord as written, with its bar; silence and repeated bars have none."""
    chart = capo_chart(Chart.parse("key: F\n| F N.C. | % | C7 |"), 3)
    pairs = [(one.bar, str(one.sounding), str(one.played)) for one in chart.symbols]
    assert pairs == [(0, "F", "D"), (2, "C7", "A7")]


@pytest.mark.parametrize("capo", [-1, 12, True, 1.5])
def test_a_capo_out_of_range_is_refused(capo: int) -> None:
    """It stands on a fret below the octave."""
    with pytest.raises(ConditionError, match="a fret from 0 to 11"):
        capo_chart(Chart.parse("| C |"), capo)
