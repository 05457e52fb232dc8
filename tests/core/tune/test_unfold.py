"""Unfolding, case by case: common practice in repeats and jumps."""

from fractions import Fraction

import pytest

from gripwright import Chart, ConditionError
from gripwright.tune import PlayedHit


def order(text: str, *, open_times: int = 2) -> list[int]:
    """The indices of the bars as unfolded."""
    return [bar.index for bar in Chart.parse(text).unfolded(open_times=open_times).bars]


@pytest.mark.parametrize(
    ("text", "bars"),
    [
        ("| C | F |", [0, 1]),
        ("| C | F :| G |", [0, 1, 0, 1, 2]),
        ("|: C :| F :| G |", [0, 0, 1, 1, 2]),
        ("|: C :|: F :|", [0, 0, 1, 1]),
        ("[A] | C | [B] | F | G :|", [0, 1, 2, 1, 2]),
        # A first ending alone: the second pass leaves it out.
        ("|: C |1. F :| G |", [0, 1, 0, 2]),
        ("|: C |1. F :|", [0, 1, 0]),
        # The last ending closed by ':|' is played once all the same.
        ("|: C |1. F :|2. G :| A |", [0, 1, 0, 2, 3]),
        ("|: C |1,3. F :|2,4. G :| A |", [0, 1, 0, 2, 0, 1, 0, 2, 3]),
        ("|: C |1-2. F :|3. G | A |", [0, 1, 0, 1, 0, 2, 3]),
        # A new section after the last ending has repeats of its own.
        ("|: C |1. F :|2. G | [B] | A | B :|", [0, 1, 0, 2, 3, 4, 3, 4]),
        # No repeats on the way back, and the last ending.
        ("|: C |1. F :|2. G | A D.C. |", [0, 1, 0, 2, 3, 0, 2, 3]),
        # The jump waits for its repeat.
        ("|: C | F D.C. al Fine :| G Fine |", [0, 1, 0, 1, 0, 1, 2]),
        ("| C Fine | F | G D.C. |", [0, 1, 2, 0]),
        ("| C Fine | F | G D.C. al Fine | A |", [0, 1, 2, 0]),
        # Repeats after the jump are taken.
        ("| C | F D.C. |: G :| A |", [0, 1, 0, 1, 2, 2, 3]),
        ("| C | F Segno | G D.S. | A |", [0, 1, 2, 1, 2, 3]),
        # Fine before the jump is passed the first time, To Coda as well.
        ("| C To Coda | F D.C. al Coda | G Coda | A |", [0, 1, 0, 2, 3]),
        ("| C | F To Coda D.C. al Coda |\n[coda] | G |", [0, 1, 0, 1, 2]),
        # The coda's own repeats are taken.
        ("| C To Coda | F D.C. al Coda |\n[Coda] |: G :| x3", [0, 1, 0, 2, 2, 2]),
        # One jump after the other, each once.
        ("| C | F D.C. | G D.C. | A |", [0, 1, 0, 1, 2, 0, 1, 2, 3]),
    ],
)
def test_order(text: str, bars: list[int]) -> None:
    """Bars come in the order in which a band plays them."""
    assert order(text) == bars


def test_an_open_vamp_is_played_as_often_as_asked() -> None:
    """A number of times stands in the chart, the other is the caller's."""
    assert order("|: C :| open F |", open_times=4) == [0, 0, 0, 0, 1]
    assert order("|: C :| x3 F |", open_times=4) == [0, 0, 0, 1]


@pytest.mark.parametrize("times", [0, 100, True])
def test_how_often_is_bounded(times: int) -> None:
    """1 to 99 times."""
    with pytest.raises(ConditionError, match="open_times"):
        order("|: C :| open", open_times=times)


def test_the_form_is_bounded() -> None:
    """A form of more than 10,000 bars is refused, and one of as many is not."""
    line = "| C " * 100
    assert len(order(f"|: {line[1:]} :| x99\n{line}|")) == 10_000
    with pytest.raises(ConditionError, match="more than 10,000"):
        order(f"|: {line[1:]} :| x99\n{line}| C |")


def test_da_capo_leaves_the_pickup_out() -> None:
    """The bar before has its beats; a repeat written around the pickup plays it again."""
    assert order("pickup: 1\n| G7 | C | F D.C. |") == [0, 1, 2, 1, 2]
    assert order("pickup: 1\n| G7 | C | F :|") == [0, 1, 2, 1, 2]
    assert order("pickup: 1\n|: G7 | C | F :|") == [0, 1, 2, 0, 1, 2]


def test_places_count_from_the_pickup() -> None:
    """The form starts with its first note, and lengths are exact."""
    form = Chart.parse("pickup: 1/3\n| G7 | C | 3/8 F |\n[B]\nmetre: 12/8\n| Am7 |").unfolded()
    assert [bar.onset for bar in form.bars] == [
        *(0, Fraction(1, 3), Fraction(13, 3)),
        Fraction(35, 6),
    ]
    assert form.length == Fraction(71, 6)


def test_a_chord_goes_on_over_the_bar_line() -> None:
    """Beats and places continue it; % attacks anew."""
    form = Chart.parse("| C | / / G7 / | / / / / | % |").unfolded()
    spans = [(str(span.symbol), int(span.onset), int(span.length)) for span in form.spans]
    assert spans == [("C", 0, 6), ("G7", 6, 10)]
    form = Chart.parse("| C F | % |").unfolded()
    assert [str(span.symbol) for span in form.spans] == ["C", "F", "C", "F"]


def test_hits_as_played() -> None:
    """A push belongs to the next chord; out of the last bar, to the first of the next chorus."""
    form = Chart.parse("| Dm7 G7 {1 2.5' 4.5>} | N.C. {1} | C {3:3/2 4.5>} |").unfolded()
    assert form.hits == (
        PlayedHit(Fraction(0), None, push=False, span=0),
        PlayedHit(Fraction(3, 2), Fraction(1, 2), push=False, span=0),
        # The next chord is none: nothing to anticipate.
        PlayedHit(Fraction(10), Fraction(3, 2), push=False, span=3),
        PlayedHit(Fraction(23, 2), None, push=True, span=0),
    )


def test_the_bars_say_what_holds_in_them() -> None:
    """Key, tempo, feel and metre by section; the pass of a repeat by the bar."""
    form = Chart.parse(
        "key: F\ntempo: 120\n[A]\n|: C :|\n[B]\nkey: Bb\nfeel: even\n| F7 |"
    ).unfolded()
    assert [str(bar.written.key) for bar in form.bars] == ["F", "F", "Bb"]
    assert [bar.written.feel for bar in form.bars] == [None, None, "even"]
    assert [bar.written.tempo_bpm for bar in form.bars] == [120, 120, 120]
    assert [bar.time for bar in form.bars] == [1, 2, 1]
