"""Which chord an attack is for: shared bars and others, anticipations, approaches, hits, breaks."""

from __future__ import annotations

import pytest

from tests.rhythm.drill.lines import drill, played

HALVES = "| Dm7 G7 | Cmaj7 |"


@pytest.mark.parametrize(
    ("pattern", "expected"),
    [
        ("1", ["Dm7 0-2", "G7 2-4"]),
        ("3", ["Dm7 0-2", "G7 2-4"]),
        ("2", ["Dm7 1-2", "G7 3-4"]),
        ("4", ["Dm7 1-2", "G7 3-4"]),
        ("1.5", ["Dm7 0.5-2", "G7 2.5-4"]),
        ("3.5", ["Dm7 0.5-2", "G7 2.5-4"]),
        ("4.5", ["Dm7 1.5-2", "G7 3.5-4"]),
        ("2 4", ["Dm7 1-2", "G7 3-4"]),
        ("1 2.5", ["Dm7 0-1.5", "Dm7 1.5-2", "G7 2-3.5", "G7 3.5-4"]),
        ("1 2 3 4", ["Dm7 0-1", "Dm7 1-2", "G7 2-3", "G7 3-4"]),
    ],
)
def test_in_half_bars_places_three_and_four_read_as_one_and_two(
    pattern: str, expected: list[str]
) -> None:
    """Each chord is heard at the place that the pattern has, off-beats alike."""
    assert played(drill("| Dm7 G7 |", pattern)) == expected


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        ("| C Am F G |", "4.5", ["C 0.5-1", "Am 1.5-2", "F 2.5-3", "G 3.5-4"]),
        ("metre: 6/8\n| C G |", "2", ["C 0-1.5", "G 1.5-3"]),
        ("metre: 12/8\n| C G |", "3", ["C 0-3", "G 3-6"]),
        ("metre: 12/8\n| C G |", "13/3'", ["C 2-3", "G 5-6"]),
        ("metre: 2/2\n| C G |", "2", ["C 0-2", "G 2-4"]),
        ("metre: 3/4\n| C F G |", "2", ["C 0-1", "F 1-2", "G 2-3"]),
    ],
)
def test_other_shares_of_whole_beats_read_alike(
    chart: str, pattern: str, expected: list[str]
) -> None:
    """Quarters of a bar, and halves of other metres."""
    assert played(drill(chart, pattern)) == expected


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        # Each attack is for the chord at its place; one unheard is attacked once, at the place
        # counted from its own start.
        ("| Dm7 / / G7 |", "1", ["Dm7 0-3", "G7 3-4"]),
        ("| Dm7 / / G7 |", "3", ["Dm7 2-3", "G7 3-4"]),
        ("| Dm7 / / G7 |", "4", ["Dm7 0-3", "G7 3-4"]),
        ("| Dm7 / / G7 |", "2.5'", ["Dm7 1.5-2", "G7 3.5-4"]),
        ("| Dm7 G7@3.5 |", "4", ["Dm7 1-2.5", "G7 3-4"]),
        ("| Dm7 G7@3.5 |", "1'", ["Dm7 0-1", "G7 2.5-3"]),
        ("metre: 3/4\n| C G |", "1", ["C 0-1.5", "G 1.5-3"]),
        ("metre: 5/4\n| C / / G / |", "4", ["C 0-3", "G 3-5"]),
        ("metre: 7/4\n| C / / / G / / |", "2", ["C 1-4", "G 5-7"]),
        # A chord that goes on from the bar before is heard already.
        ("| C F | / / G / |", "3'", ["C 0-1", "F 2-3", "G 6-7"]),
    ],
)
def test_in_other_bars_every_chord_is_heard(chart: str, pattern: str, expected: list[str]) -> None:
    """Bars whose chords do not share them in whole beats."""
    found = played(drill(chart, pattern))
    assert [one for one in found if one in expected] == expected
    assert {one.split()[0] for one in found} == {one.split()[0] for one in expected}


def test_a_bar_of_another_length_has_the_places_that_fit() -> None:
    """A bar of 2/4 in 4/4 lacks 3 and 4: what would be silent there reads as 1 and 2."""
    chart = "| C | 2/4 F | G |"
    assert played(drill(chart, "1 3"))[2:] == ["F 4-6", "G 6-8", "G 8-10"]
    assert played(drill(chart, "4'")) == ["C 3-4", "F 5-6", "G 9-10"]
    assert played(drill("| C | 3/4 F | G |", "4.5'")) == ["C 3.5-4", "F 4.5-5", "G 10.5-11"]


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        # Over the barline, and into the count-in for the first chord.
        ("key: G\n| C | G |", "4.5>", ["C -0.5-3.5>", "G 3.5-7.5>", "G 7.5-12>"]),
        ("key: G\n| C | G |", "1 4.5>", ["C 0-3.5", "G 3.5-4>", "G 4-7.5", "G 7.5-12>"]),
        # To a change on beat 3; where the chord of the next beat is its own, it is none.
        ("key: G\n| C G |", "1 2.5>", ["C 0-1.5", "G 1.5-3.5>", "G 3.5-8>"]),
        ("| C |", "2.5>", ["C 1.5-4"]),
        # A chord that no push is for is attacked where it starts.
        ("| C G | F |", "2.5>", ["C 0-1.5", "G 1.5-3.5>", "F 3.5-5.5>", "F 5.5-8"]),
        # A push to the end of the bar stands before the end of each chord of it.
        ("| C / / G | F |", "4.5>", ["C -0.5-2.5>", "G 2.5-3.5>", "F 3.5-7.5>", "F 7.5-12>"]),
        ("| C G@3.5 | F |", "4.5>", ["C -0.5-2>", "G 2-3.5>", "F 3.5-7.5>", "F 7.5-12>"]),
        # And before the end of a bar of another length.
        ("| C | 3/4 G | F |", "4.5>", ["C -0.5-3.5>", "G 3.5-6.5>", "F 6.5-10.5>", "F 10.5-15>"]),
        # A chord over two bars: the push inside it is for itself.
        ("key: G\n| C | / / / / | G |", "4.5>", ["C 3.5-7.5", "G 7.5-11.5>", "G 11.5-16>"]),
        # Short and exact ones: only the ending is held.
        ("key: G\n| C | G |", "4.5>'", ["C -0.5-0>", "G 3.5-4>", "G 7.5-12>"]),
        ("key: G\n| C | G |", "4.5:0.25>", ["C -0.5--0.25>", "G 3.5-3.75>", "G 7.5-12>"]),
        # Nothing anticipates N.C., and what follows N.C. is anticipated in it.
        ("key: G\n| C | N.C. | G |", "4.5>", ["C -0.5-4>", "G 7.5-11.5>", "G 11.5-16>"]),
        (
            "key: G\nmetre: 6/8\n| C | G |",
            "2 8/3>",
            ["C 1.5-2.5", "G 2.5-4.5>", "G 4.5-5.5", "G 5.5-9>"],
        ),
    ],
)
def test_an_anticipation_belongs_to_the_chord_that_it_anticipates(
    chart: str, pattern: str, expected: list[str]
) -> None:
    """It sounds that chord, through the change, until the next attack."""
    assert played(drill(chart, pattern)) == expected


def test_a_first_chord_without_room_for_its_anticipation_is_attacked_at_its_start() -> None:
    """Without a count-in nothing stands before the form; with a pickup the pickup does."""
    assert played(drill("key: G\n| C | G |", "4.5>", count_in=0))[:2] == ["C 0-3.5", "G 3.5-7.5>"]
    chart = "pickup: 1\n| G7 | C | F |"
    assert played(drill(chart, "4.5>"))[:3] == ["G7 0-0.5", "C 0.5-4.5>", "F 4.5-8.5>"]


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        # One takes the last beat of a chord of two beats or more.
        ("key: G\n| C | G |", "1 4(above)", ["C 0-3", "Ab 3-4*", "G 4-7", "Ab 7-8*", "G 8-12"]),
        ("key: G\n| C G |", "1 4(below)", ["C 0-1", "F# 1-2*", "G 2-3", "F# 3-4*", "G 4-8"]),
        ("| C G Am F |", "1 4(above)", ["C 0-1", "G 1-2", "Am 2-3", "F 3-4"]),
        ("| C G Am F |", "1 4.5(above)", ["C 0-1", "G 1-2", "Am 2-3", "F 3-4"]),
        ("| C / / G |", "1 4(above)", ["C 0-2", "Ab 2-3*", "G 3-4"]),
        # Two take the last two of three or more; a chord of two beats has room for one.
        (
            "key: G\n| C | G |",
            "1 3(double-above) 4(double-above)",
            ["C 0-2", "A 2-3*", "Ab 3-4*", "G 4-6", "A 6-7*", "Ab 7-8*", "G 8-12"],
        ),
        (
            "key: G\n| C G |",
            "1 3(double-above) 4(double-above)",
            ["C 0-1", "Ab 1-2*", "G 2-3", "Ab 3-4*", "G 4-8"],
        ),
        (
            "| C / / G |",
            "1 3(double-below) 4(double-below)",
            ["C 0-1", "F 1-2*", "F# 2-3*", "G 3-4"],
        ),
        # A chord that stays is approached from itself.
        ("| C | % |", "1 4(above)", ["C 0-3", "Db 3-4*", "C 4-7", "Db 7-8*", "C 8-12"]),
        ("| C | / / / / |", "1 4(above)", ["C 0-3", "Db 3-4*", "C 4-7", "Db 7-8*", "C 8-12"]),
        # Approaches alone; short ones.
        ("key: G\n| C | G |", "4(above)'", ["Ab 3-4*", "Ab 7-8*", "G 8-12"]),
        # Nothing leads to N.C., nor from it.
        ("key: G\n| C | N.C. | G |", "1 4(above)", ["C 0-4", "G 8-11", "Ab 11-12*", "G 12-16"]),
        (
            "key: G\nmetre: 3/4\n| C | G |",
            "1 3(dominant)",
            ["C 0-2", "D7 2-3*", "G 3-5", "D7 5-6*", "G 6-9"],
        ),
        (
            "key: G\nmetre: 6/8\n| C | G |",
            "1 2(above)",
            ["C 0-1.5", "Ab 1.5-3*", "G 3-4.5", "Ab 4.5-6*", "G 6-9"],
        ),
        (
            "key: G\n| C | 2/4 F | G |",
            "1 4(above)",
            ["C 0-3", "Gb 3-4*", "F 4-5", "Ab 5-6*", "G 6-9", "Ab 9-10*", "G 10-14"],
        ),
    ],
)
def test_an_approach_takes_the_last_beat_and_leads_on(
    chart: str, pattern: str, expected: list[str]
) -> None:
    """Single and double ones, by the length of the chord before."""
    assert played(drill(chart, pattern)) == expected


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        (
            "| C {1 2.5' 4.5>} | G | Am |",
            "1",
            ["C 0-1.5", "C 1.5-2", "G 3.5-4>", "G 4-8", "Am 8-12"],
        ),
        ("| C {2:1.5} | G |", "1", ["C 1-2.5", "G 4-8"]),
        ("| C {2:9} | G |", "1", ["C 1-4", "G 4-8"]),
        ("| C / G / {1 3 4} |", "2", ["C 0-2", "G 2-3", "G 3-4"]),
        ("key: G\n| C | G {4.5>} |", "1", ["C 0-4", "G 7.5-12>"]),
        ("| C {1 3} | % |", "2", ["C 0-2", "C 2-4", "C 4-6", "C 6-8"]),
        # The pattern does not sound G, whose bar it would anticipate from: it is attacked.
        ("| C {1} | G | F |", "4.5>", ["C 0-4", "G 4-7.5", "F 7.5-11.5>", "F 11.5-16>"]),
        ("| C N.C. {1 3} | G |", "1", ["C 0-2", "G 4-8"]),
    ],
)
def test_hits_are_played_as_written(chart: str, pattern: str, expected: list[str]) -> None:
    """The pattern rests in a bar with hits."""
    assert played(drill(chart, pattern)) == expected


def test_without_a_pattern_only_what_is_prescribed_sounds() -> None:
    """Hits and held chords, and a note where there is none of them."""
    assert played(drill("| C {1'} | <G> | Am |", None)) == ["C 0-1", "G 4-8"]
    silent = drill("key: G\n| C | G |", None)
    assert silent.events == ()
    assert silent.notes == ("No rhythm is prescribed: the chords are yours to place.",)


def test_a_rhythm_that_sounds_nothing_says_another_thing() -> None:
    """An approach that nothing follows, over one chord."""
    score = drill("| C | N.C. |", "4(above)")
    assert score.notes == ("No attack of this rhythm falls on a chord of the chart.",)


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        ("key: G\n| <C> | G |", "1 3", ["C 0-4", "G 4-6", "G 6-8"]),
        ("| C <G> | F |", "1'", ["C 0-1", "G 2-4", "F 4-5"]),
        ("key: G\n| <C> | G |", "1 4(above)", ["C 0-4", "G 4-7", "Ab 7-8*", "G 8-12"]),
        ("| <C> | / / / / | G |", "1", ["C 0-8", "G 8-12"]),
        # Anticipated, it is attacked once all the same, and held though the push is short.
        ("key: G\n| C | <G> |", "1 4.5>'", ["C 0-3.5", "G 3.5-7.5>", "G 7.5-12>"]),
        ("key: G\n| C <G> |", "1 2.5>'", ["C 0-1.5", "G 1.5-3.5>", "G 3.5-8>"]),
    ],
)
def test_a_held_chord_is_attacked_once(chart: str, pattern: str, expected: list[str]) -> None:
    """Whatever the rhythm is."""
    assert played(drill(chart, pattern)) == expected


@pytest.mark.parametrize(
    ("chart", "pattern", "expected"),
    [
        ("| C | G {} | F |", "1", ["C 0-4", "F 8-12"]),
        ("| C | / / / / {} | G |", "3", ["C 2-4", "G 10-12"]),
        ("| C | G {} | F |", "1~", ["C 0-4", "F 8-12"]),
        ("| C | G {} | F |", "1 4:3~", ["C 0-3", "C 3-4", "F 8-11", "F 11-12"]),
        ("| C | G {} | F |", "4.5>", ["C -0.5-4>", "F 8-11.5", "F 11.5-16>"]),
        ("| C | G {} | F |", "1 4(above)", ["C 0-4", "F 8-11", "Gb 11-12*", "F 12-16"]),
        # What a push into N.C. leaves of a bar's hits is no break.
        ("| C | / / / / {4>} | N.C. |", "1~", ["C 0-8"]),
    ],
)
def test_a_break_is_silent(chart: str, pattern: str, expected: list[str]) -> None:
    """Nothing is attacked in it, rings into it or leads to it (common practice)."""
    assert played(drill(chart, pattern)) == expected


def test_a_break_at_the_top_is_not_anticipated() -> None:
    """Neither in the count-in nor from the chorus before; the ending is."""
    assert played(drill("key: G\n| C {} | G |", "4.5>", choruses=2)) == [
        *("G 4-8", "G 12-15.5", "G 15.5-20>"),
    ]


def test_nc_is_silent() -> None:
    """No attack on it, whatever the place."""
    assert played(drill("| C N.C. | N.C. | G |", "1 2 3 4")) == [
        *("C 0-1", "C 1-2", "G 8-9", "G 9-10", "G 10-11", "G 11-12"),
    ]


def test_a_pattern_of_several_bars_starts_again_in_every_chorus() -> None:
    """Three bars under a pattern of two."""
    found = played(drill("| C | G | F |", "1' | 2'", choruses=2))
    assert found == ["C 0-1", "G 5-6", "F 8-9", "C 12-13", "G 17-18", "F 20-21"]
