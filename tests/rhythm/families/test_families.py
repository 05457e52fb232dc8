"""The families: what each holds, and what it refuses."""

import pytest

from gripwright import ConditionError, Meter
from gripwright.meter import RhythmFamily
from gripwright.plugins.kinds import RHYTHM_FAMILIES
from gripwright_rhythm.families import families

FOUR = Meter()


def family(name: str) -> RhythmFamily:
    """The family of a name."""
    (found,) = (one for one in families() if one.name == name)
    return found


def texts(name: str, meter: str, *, seed: int = 0) -> dict[str, str]:
    """The text of each pattern of a family, by its name."""
    found = family(name).patterns(Meter.parse(meter), seed=seed)
    return {pattern.name: str(pattern) for pattern in found}


def test_every_family_has_its_name_and_line() -> None:
    """No name twice; one line each."""
    names = [one.name for one in families()]
    assert len(set(names)) == len(names) == 16
    assert all(one.summary.endswith(".") and "\n" not in one.summary for one in families())
    assert all(isinstance(one, RhythmFamily) for one in families())


@pytest.mark.parametrize("one", families(), ids=lambda one: one.name)
def test_the_registry_takes_it(one: RhythmFamily) -> None:
    """Each passes the checks that a stranger's families pass."""
    assert RHYTHM_FAMILIES.checked(one) == (one.name, one)


@pytest.mark.parametrize(
    ("meter", "numbers"),
    [
        ("4/4", ["1", "1.5", "2", "2.5", "3", "3.5", "4", "4.5"]),
        ("3/4", ["1", "1.5", "2", "2.5", "3", "3.5"]),
        ("7/8", [f"{half / 2:g}" for half in range(2, 16)]),
    ],
)
def test_single_places(meter: str, numbers: list[str]) -> None:
    """Every place long, then every place short."""
    assert texts("places", meter) == {
        **{f"place-{number}": number for number in numbers},
        **{f"place-{number}-short": f"{number}'" for number in numbers},
    }


def test_single_places_of_compound_metres() -> None:
    """In six eighths each eighth is a place, named by its number among the eighths."""
    assert list(texts("places", "6/8").items())[:3] == [
        ("place-8th-1", "1"),
        ("place-8th-2", "4/3"),
        ("place-8th-3", "5/3"),
    ]


def test_pairs() -> None:
    """Every two of eight places, once: 28."""
    found = texts("pairs", "4/4")
    assert len(found) == 28
    assert found["pair-1-2.5"] == "1 2.5"
    assert list(found)[-1] == "pair-4-4.5"
    assert texts("pairs", "6/8")["pair-8th-1-8th-4"] == "1 2"


@pytest.mark.parametrize(
    ("meter", "name", "accented"),
    [
        ("4/4", "four", "1 2! 3 4!"),
        ("3/4", "three", "1 2! 3"),
        ("7/4", "seven", "1 2! 3 4 5 6! 7"),
        ("12/8", "four", "1 2! 3 4!"),
    ],
)
def test_every_beat(meter: str, name: str, accented: str) -> None:
    """Held, accented on the backbeats, and cut to 0.5, 0.6 and 0.7 of a beat."""
    found = texts("every-beat", meter)
    assert found[f"{name}-to-the-bar"] == accented.replace("!", "")
    assert found[f"{name}-to-the-bar-accented"] == accented
    assert list(found)[2:] == [f"{name}-to-the-bar-0.{tenths}" for tenths in (5, 6, 7)]


def test_every_beat_without_groups() -> None:
    """Where no groups are known nothing is accented; many beats are counted in digits."""
    assert list(texts("every-beat", "13/8"))[:2] == ["all-13-to-the-bar", "all-13-to-the-bar-0.5"]
    assert "!" not in "".join(texts("every-beat", "13/8").values())


def test_displacements_that_repeat_are_given_once() -> None:
    """In three beats the cell halves the bar: three displacements differ, six if clipped."""
    assert list(texts("dotted", "3/4").values()) == ["1 2.5", "1.5 3", "2 3.5"]
    assert len(texts("dotted-clipped", "3/4")) == 6
    assert texts("dotted-clipped", "3/4")["dotted-2.5-clipped"] == "1:0.5 2.5:1.5"
    assert len(texts("dotted", "5/4")) == 10


@pytest.mark.parametrize(
    ("meter", "expected"),
    [
        (
            "4/4",
            {
                "push-4.5": "4.5>",
                "push-2.5": "2.5>",
                "push-2.5-4.5": "2.5> 4.5>",
                "push-1-4.5": "1 4.5>",
            },
        ),
        (
            "6/8",
            {
                "push-8th-6": "8/3>",
                "push-8th-3": "5/3>",
                "push-8th-3-8th-6": "5/3> 8/3>",
                "push-1-8th-6": "1 8/3>",
            },
        ),
        ("11/8", {"push-11.5": "11.5>", "push-1-11.5": "1 11.5>"}),
    ],
)
def test_anticipations(meter: str, expected: dict[str, str]) -> None:
    """Of the next bar, and of the middle of the bar where it has one."""
    assert texts("anticipations", meter) == expected


def test_cycles() -> None:
    """One place a bar, through the beats or the off-beats, forth and back."""
    assert texts("cycles", "4/4") == {
        "cycle-beats": "1 | 2 | 3 | 4",
        "cycle-beats-back": "4 | 3 | 2 | 1",
        "cycle-off-beats": "1.5 | 2.5 | 3.5 | 4.5",
        "cycle-off-beats-back": "4.5 | 3.5 | 2.5 | 1.5",
    }
    assert texts("cycles", "6/8")["cycle-off-beats"] == "5/3 | 8/3"


def test_threes() -> None:
    """A cell of three beats comes round after three bars."""
    assert texts("threes", "4/4") == {
        "threes-1-off-2": "1 2.5 4 | 1.5 3 4.5 | 2 3.5",
        "threes-1": "1 4 | 3 | 2",
        "threes-1-3": "1 3 4 | 2 3 | 1 2 4",
        "threes-2-3": "2 3 | 1 2 4 | 1 3 4",
    }
    assert texts("threes", "12/8")["threes-1-off-2"] == "1 8/3 4 | 5/3 3 14/3 | 2 11/3"


def test_random_places() -> None:
    """Eight bars, of one place or two; another seed gives others."""
    first = texts("random", "4/4", seed=1)
    assert [len(text.split("|")) for text in first.values()] == [8, 8, 8, 8]
    assert [len(text.replace("|", " ").split()) for text in first.values()] == [8, 8, 8, 16]
    assert first != texts("random", "4/4", seed=2)
    assert set("".join(first["random-1-short"].split())) <= set("12345.|'")


def test_the_same_seed_gives_the_same_places_for_ever() -> None:
    """What a seed gave once stays: a drill on paper can be made again."""
    assert texts("random", "4/4", seed=0)["random-1"] == "2.5 | 2.5 | 3 | 1.5 | 1.5 | 4 | 1.5 | 4"


def test_random_places_reach_every_place() -> None:
    """No place of the bar is left out for good."""
    found = {
        word
        for seed in range(40)
        for word in texts("random", "4/4", seed=seed)["random-1"].replace("|", " ").split()
    }
    assert found == {"1", "1.5", "2", "2.5", "3", "3.5", "4", "4.5"}


def test_phrases_grow() -> None:
    """Each chorus of a phrase has as many attacks as the one before or more, and is louder."""
    found = [
        pattern
        for meter in family("phrases").meters
        for pattern in family("phrases").patterns(meter, seed=0)
    ]
    assert {pattern.bars for pattern in found} == {2, 4}
    for pattern in found:
        choruses = [pattern, *pattern.later]
        assert len(choruses) > 2
        counts = [len(chorus.attacks) for chorus in choruses]
        dynamics = [chorus.dynamic for chorus in choruses]
        assert counts == sorted(set(counts))
        assert dynamics == sorted(set(dynamics))
        assert {chorus.bars for chorus in choruses} == {pattern.bars}


@pytest.mark.parametrize(
    ("name", "meter", "expected"),
    [
        ("bossa", "3/4", "4/4"),
        ("waltz", "4/4", "3/4"),
        ("waltz", "6/8", "3/4"),
        ("five", "4/4", "3+2/4, 2+3/4"),
        ("five", "4+1/4", "3+2/4, 2+3/4"),
        ("seven", "7/8", "4+3/4, 3+4/4"),
        ("compound", "3+3/8", "6/8, 9/8, 12/8"),
        ("dotted", "6/8", "a metre of quarters with 3 beats or more"),
        ("dotted", "2/4", "a metre of quarters with 3 beats or more"),
        ("threes", "3/4", "a metre of 2 beats or more whose bars are no threes"),
        ("backbeat", "11/8", "4/4, 2/4, 3+2/4, 2+3/4, 4+3/4, 3+4/4, 6/8, 12/8"),
        ("phrases", "5/4", "4/4, 3/4, 12/8, 6/8"),
    ],
)
def test_unknown_metres(name: str, meter: str, expected: str) -> None:
    """The refusal names the family, the metre, and the metres that it knows."""
    with pytest.raises(ConditionError) as caught:
        family(name).patterns(Meter.parse(meter), seed=0)
    assert caught.value.name == f"metre of rhythm family {name!r}"
    assert (caught.value.value, caught.value.expected) == (meter, expected)
    assert Meter.parse(meter) not in family(name).meters


def test_groups_play_where_none_are_written() -> None:
    """In 5/4 without groups both ways of grouping are offered."""
    assert set(texts("five", "5/4")) == set(texts("five", "3+2/4")) | set(texts("five", "2+3/4"))
