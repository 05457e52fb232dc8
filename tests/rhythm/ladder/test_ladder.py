"""The ladder: every rung's drills in 4/4, and what other metres have of them."""

import pickle
from collections.abc import Callable
from fractions import Fraction
from typing import Any, cast

import pytest

from gripwright import ConditionError, Meter
from gripwright_rhythm.click import Click
from gripwright_rhythm.ladder import RUNGS, Part, rung, rungs_in
from tests.rhythm.ladder.ladder_rows import ladder_rows

FOUR = Meter()
ROWS = tuple(ladder_rows())


def drills(number: int, meter: str) -> list[tuple[str, str]]:
    """Pattern and click of each drill of a rung."""
    return [(str(part.pattern), str(part.click)) for part in rung(number).parts(Meter.parse(meter))]


def first_patterns(number: int, meter: str) -> list[str]:
    """The patterns of a rung, each once, in order."""
    return list(dict.fromkeys(pattern for pattern, _ in drills(number, meter)))


def test_rungs_are_numbered_from_one_to_thirty_four() -> None:
    """In order, each under its number."""
    assert [one.number for one in RUNGS] == list(range(1, 35))
    assert all(rung(one.number) is one for one in RUNGS)
    assert rungs_in(FOUR) == RUNGS


def test_one_sentence_a_rung() -> None:
    """Each is for something of its own, in one sentence."""
    sentences = [one.sentence for one in RUNGS]
    assert len(set(sentences)) == len(sentences)
    for sentence in sentences:
        assert sentence[0].isupper()
        assert sentence.endswith(".")
        assert ". " not in sentence
        assert sentence.isascii()


# The steps are common practice; that they are played in this order is a proposal.
@pytest.mark.parametrize("number", range(1, 35))
def test_drills_of_a_rung_in_four(number: int) -> None:
    """Each rung has the drills of the table, in order."""
    rows = [row for row in ROWS if row.rung == number]
    parts = rung(number).parts(FOUR)
    assert [str(part.click) for part in parts] == [row.click for row in rows]
    for part, row in zip(parts, rows, strict=True):
        if row.pattern == "-":
            assert part.pattern is None
        elif row.pattern:
            assert str(part.pattern) == row.pattern


def test_patterns_have_names_and_lines_of_their_own() -> None:
    """A pattern keeps its name under another click; no other has it; its line says what to do."""
    named: dict[str, object] = {}
    for one in RUNGS:
        for part in one.parts(FOUR):
            assert part.sentence.endswith(f"; click {part.click.words()}.")
            if part.pattern is not None:
                assert named.setdefault(part.pattern.name, part.pattern) == part.pattern
                assert part.sentence.startswith(part.pattern.summary.removesuffix("."))
    assert len(named) == len(set(named.values()))


@pytest.mark.parametrize(
    ("number", "part", "sentence"),
    [
        (1, 1, "Beat 1, held; click on all beats."),
        (12, 6, "Beat 2, long and short by turns; click on 2 and 4."),
        (18, 2, "The and of 2, short; click on all beats."),
        (31, 2, "Every beat; click on all beats for 4 bars, then silent for 4."),
        (34, 2, "Your own rhythm; click on 2 and 4."),
    ],
)
def test_sentences(number: int, part: int, sentence: str) -> None:
    """A drill says what to play, how long, and what clicks."""
    assert rung(number).part(part, FOUR).sentence == sentence


def test_rungs_ten_and_eleven_repeat_those_before() -> None:
    """The same patterns as from 1 to 4 and from 5 to 9, with clicks on 2 and 4 alone."""
    for number, repeated in ((10, range(1, 5)), (11, range(5, 10))):
        before = [part for one in repeated for part in rung(one).parts(FOUR)]
        again = rung(number).parts(FOUR)
        assert [str(part.pattern) for part in again] == [str(part.pattern) for part in before]
        assert {part.click for part in again} == {Click.parse("2 4")}


def test_chance_is_chosen_by_the_seed() -> None:
    """Rung 33 is one place a bar, long, then short; another seed gives other places."""
    long, short = rung(33).parts(FOUR, seed=5)
    assert long.pattern is not None
    assert short.pattern is not None
    assert len(long.pattern.attacks) == long.pattern.bars == 8
    assert {attack.length for attack in long.pattern.attacks} == {"long"}
    assert {attack.length for attack in short.pattern.attacks} == {"short"}
    assert rung(33).parts(FOUR, seed=5) == (long, short)
    assert rung(33).parts(FOUR, seed=6) != (long, short)
    assert rung(33).part(1, FOUR, seed=5) == long


@pytest.mark.parametrize(
    ("meter", "missing"),
    [
        ("4/4", []),
        ("2+2/4", []),
        ("3/4", [14, 20, 32]),
        ("5/4", []),
        ("3+2/4", []),
        ("7/4", []),
        ("2/4", [13, 14, 15, 16, 19, 20, 26, 27]),
        ("2/2", [13, 14, 15, 16, 19, 20, 26, 27]),
        ("6/8", [13, 14, 15, 16, 19, 20, 26, 27]),
        ("9/8", [14, 20, 26, 32]),
        ("12/8", [26]),
        ("7/8", [10, 11, 15, 16, 25, 26]),
        ("1/4", [*range(5, 17), *range(18, 22), 25, 26, 27, 29, 32]),
    ],
)
def test_rungs_of_other_metres(meter: str, missing: list[int]) -> None:
    """Which rungs a metre has can be asked; those that it has not are refused by number."""
    asked = Meter.parse(meter)
    known = rungs_in(asked)
    assert [one.number for one in RUNGS if one not in known] == missing
    for number in missing:
        assert not rung(number).fits(asked)
        with pytest.raises(ConditionError) as caught:
            rung(number).parts(asked)
        assert caught.value.name == f"metre of rung {number}"
        assert caught.value.value == meter
        assert "metre" in caught.value.expected
        assert pickle.loads(pickle.dumps(caught.value)).name == caught.value.name


@pytest.mark.parametrize(
    ("number", "meter", "patterns"),
    [
        (4, "3/4", ["1 2 3"]),
        (5, "3/4", ["1 3"]),
        (7, "6/8", ["1 2(above)"]),
        (14, "6/4", ["4", "4'", "4 | 4'", "5", "5'", "5 | 5'", "6", "6'", "6 | 6'"]),
        (15, "3/4", ["2 3", "2' 3'", "2 3 | 2' 3'"]),
        (15, "7/4", ["2 6", "2' 6'", "2 6 | 2' 6'"]),
        (16, "3/4", ["1 3", "1' 3'", "1 3 | 1' 3'"]),
        (16, "2+3/4", ["1 3", "1' 3'", "1 3 | 1' 3'"]),
        (17, "6/8", ["5/3", "5/3'", "5/3 | 5/3'"]),
        (20, "5/4", ["4.5", "4.5'", "4.5 | 4.5'", "5.5", "5.5'", "5.5 | 5.5'"]),
        # In an odd number of bars each place is long once and short once.
        (22, "3/4", ["1 | 2 | 3", "1' | 2' | 3'", "1 | 2' | 3 | 1' | 2 | 3'"]),
        (24, "3/4", ["3.5>"]),
        (24, "12/8", ["14/3>"]),
        (25, "3/4", ["2.5>"]),
        (25, "5/4", ["3.5>"]),
        (25, "6/8", ["5/3>"]),
        (26, "3/4", ["1 2.5", "1.5 3", "2 3.5"]),
        (27, "3/4", ["1 2(double-above) 3(double-above)", "1 2(double-below) 3(double-below)"]),
        (32, "5/4", ["1 2.5 4 5.5 | 2 3.5 5 | 1.5 3 4.5"]),
    ],
)
def test_patterns_of_other_metres(number: int, meter: str, patterns: list[str]) -> None:
    """The last beat, the off-beats and the groups are those of the metre."""
    assert first_patterns(number, meter) == patterns


@pytest.mark.parametrize(
    ("number", "meter", "clicks"),
    [
        (12, "3/4", ["all", "2"]),
        (12, "5/4", ["all", "2 5"]),
        (12, "2+3/4", ["all", "2 4"]),
        (12, "7/4", ["all", "2 6"]),
        (12, "6/8", ["all", "2"]),
        (12, "12/8", ["all", "2 4"]),
        # Where no backbeat is known, all beats click.
        (12, "7/8", ["all"]),
        (10, "3/4", ["2"]),
        (29, "3/4", ["3"]),
        (34, "11/8", ["all"]),
    ],
)
def test_clicks_of_other_metres(number: int, meter: str, clicks: list[str]) -> None:
    """Clicks on 2 and 4 are those on the second beat of each group (common practice)."""
    assert list(dict.fromkeys(click for _, click in drills(number, meter))) == clicks


@pytest.mark.parametrize("number", [0, 35, -1, True, 1.0, "1"])
def test_no_such_rung(number: object) -> None:
    """The error says how many there are."""
    with pytest.raises(ConditionError) as caught:
        rung(cast("Any", number))
    assert (caught.value.name, caught.value.expected) == ("rung", "1 to 34")


@pytest.mark.parametrize(
    ("ask", "expected"),
    [
        (lambda: rung(12).part(0, FOUR), "1 to 6 in 4/4"),
        (lambda: rung(12).part(7, FOUR), "1 to 6 in 4/4"),
        (lambda: rung(12).part(4, Meter(7, 8)), "1 to 3 in 7/8"),
        (lambda: rung(26).part(9, FOUR), "1 to 8 in 4/4"),
        (lambda: rung(12).part(cast("Any", "1"), FOUR), "1 to 6 in 4/4"),
    ],
)
def test_no_such_part(ask: Callable[[], Part], expected: str) -> None:
    """The error names the rung, and says how many drills it has in the metre."""
    with pytest.raises(ConditionError) as caught:
        ask()
    assert caught.value.name.startswith("part of rung ")
    assert caught.value.expected == expected


def test_the_half_beat_of_rung_six() -> None:
    """The last beat sounds for exactly half a beat, whatever a beat is."""
    for meter, half in ((FOUR, Fraction(1, 2)), (Meter(6, 8), Fraction(3, 4)), (Meter(2, 2), 1)):
        pattern = rung(6).part(1, meter).pattern
        assert pattern is not None
        last = pattern.attacks[-1]
        assert pattern.sounding(last, pattern.length) == half
