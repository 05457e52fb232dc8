"""Why a search found nothing: the first condition in a fixed order that gives voicings back."""

from typing import Any

import attrs
import pytest

from gripwright import Chord, Hand, Instrument, Note, Pitch, Recipe, find_voicings
from gripwright.neck.emptiness import Emptiness, explain_empty

FOUR = Instrument.from_text("D3 G3 B3 E4", frets=6, scale_mm=648.0, id="four")


@attrs.frozen
class Stack:
    """A strategy of recipes that are given."""

    given: tuple[Recipe, ...]
    name: str = "stack"
    summary: str = "Recipes that are given."

    def recipes(self, _chord: Chord, /) -> tuple[Recipe, ...]:
        """Return the recipes, whatever the chord."""
        return self.given


OCTAVES = Stack((Recipe(("1", "1", "1"), "scale", gaps=(12, 12)),))


def explained(symbol: str, instrument: Instrument = FOUR, **conditions: Any) -> Emptiness:
    """Explain an empty search under the usual hand."""
    assert not len(find_voicings(Chord.parse(symbol), instrument, **conditions))
    return explain_empty(Chord.parse(symbol), instrument, Hand(), **conditions)


@pytest.mark.parametrize(
    ("symbol", "conditions", "without", "said"),
    [
        ("G7", {"top_degree": "9"}, "top_degree", "9 as the top note"),
        ("G7", {"top_note": Note.parse("Bb")}, "top_note", "Bb on top"),
        ("G7", {"top_note": Pitch.parse("C7")}, "top_note", "C7 on top"),
        ("G7", {"bass_degree": "b9"}, "bass_degree", "b9 as the lowest note"),
        ("G7", {"strings": (4, 3)}, "strings", "strings 4, 3 and no others"),
        ("Eb7", {"highest_fret": 0}, "highest_fret", "no fret above 0"),
        ("Eb7", {"lowest_fret": 6}, "lowest_fret", "no fret below 6"),
        ("G", {"no_open": True, "highest_fret": 2, "lowest_fret": 2}, "highest_fret", None),
        ("G", {"no_doubles": True, "min_notes": 4}, "no_doubles", "no tone twice"),
        ("G5", {"root": "none", "min_tones": 2}, "root", "no root"),
        ("G", {"min_notes": 5}, "min_notes", "at least 5 notes"),
        ("G", {"max_notes": 2}, "max_notes", "at most 2 notes"),
        ("G", {"min_tones": 4}, "min_tones", "at least 4 different tones"),
    ],
    ids=str,
)
def test_the_condition_in_the_way_is_named(
    symbol: str, conditions: dict[str, Any], without: str, said: str | None
) -> None:
    """Its name, how it is said, and how many voicings there are without it and with the rest."""
    found = explained(symbol, **conditions)
    rest = {name: value for name, value in conditions.items() if name != without}
    count = len(find_voicings(Chord.parse(symbol), FOUR, **rest))
    assert (found.condition, found.returning) == (without, count)
    if said is not None:
        be = "is" if count == 1 else "are"
        assert found.sentence == (
            f"no playable voicing of {symbol}; without the condition '{said}' there {be} {count:,}"
        )


@pytest.mark.parametrize(
    ("conditions", "without", "said"),
    [
        ({"stroke": "strum"}, "stroke", "the right hand's stroke, strum"),
        ({"no_inner_mutes": True}, "no_inner_mutes", "no muted string between sounding ones"),
    ],
    ids=str,
)
def test_a_string_that_nobody_damps_is_in_the_way(
    conditions: dict[str, Any], without: str, said: str
) -> None:
    """Em has no C sharp, so that the third string of this neck stays mute among open ones."""
    hollow = Instrument.from_text("E3 C#4 G3 B3", frets=1, scale_mm=648.0, id="hollow")
    found = explained("Em", hollow, **conditions)
    assert (found.condition, found.returning) == (without, 1)
    assert found.sentence.endswith(f"without the condition '{said}' there is 1")


@pytest.mark.parametrize(
    ("degrees", "conditions", "without", "said"),
    [
        (("3", "5", "b7"), {"root": "required"}, "root", "the root"),
        (("3", "b7", "9"), {"as_written": True}, "as_written", "the symbol as written"),
    ],
    ids=str,
)
def test_what_a_strategy_does_otherwise_is_in_the_way(
    degrees: tuple[str, ...], conditions: dict[str, Any], without: str, said: str
) -> None:
    """A stack without the root, and one with a ninth that the symbol has not."""
    chord, strategy = Chord.parse("G7"), Stack((Recipe(degrees, "tensions"),))
    assert not len(find_voicings(chord, FOUR, strategy=strategy, **conditions))
    found = explain_empty(chord, FOUR, Hand(), strategy, **conditions)
    assert found.condition == without
    assert f"'{said}'" in found.sentence
    assert found.returning == len(find_voicings(chord, FOUR, strategy=strategy)) > 0


def test_a_strategy_in_the_way_is_named() -> None:
    """Voicings come back without it, but under the conditions that were asked for."""
    chord = Chord.parse("G7")
    found = explain_empty(chord, FOUR, Hand(), OCTAVES, no_open=True)
    assert found.condition == "strategy"
    assert "'the strategy stack'" in found.sentence
    assert found.returning == len(find_voicings(chord, FOUR, no_open=True)) > 0


@pytest.mark.parametrize(
    ("hand", "without", "said"),
    [
        (Hand(reach_mm=5.0), "reach_mm", "a reach of 5 mm"),
        (Hand(reach_mm=12.5), "reach_mm", "a reach of 12.5 mm"),
        (Hand(fingers=1, reach_mm=200.0), "fingers", "1 finger"),
    ],
    ids=str,
)
def test_a_hand_in_the_way_is_measured(hand: Hand, without: str, said: str) -> None:
    """With all the reach, or all the fingers, that a hand may have, there are voicings."""
    chord = Chord.parse("Eb7")
    assert not len(find_voicings(chord, FOUR, hand))
    found = explain_empty(chord, FOUR, hand)
    wider = attrs.evolve(hand, **{without: 1000 if without == "reach_mm" else 5})
    assert found.condition == without
    assert f"'{said}'" in found.sentence
    assert found.returning == len(find_voicings(chord, FOUR, wider)) > 0


def test_fingers_are_counted_in_the_plural() -> None:
    """G B D lie on frets 1, 2 and 3 of this neck and nowhere else: three fingers."""
    neck = Instrument.from_text("F#2 A2 B2", frets=3, scale_mm=648.0, id="three")
    assert [voicing.frets for voicing in find_voicings(Chord.parse("G"), neck)] == [(1, 2, 3)]
    found = explain_empty(Chord.parse("G"), neck, Hand(fingers=2))
    assert (found.condition, found.returning) == ("fingers", 1)
    assert found.sentence.endswith("without the condition '2 fingers' there is 1")


def test_more_than_can_be_held_come_back() -> None:
    """The bound of rows holds for what is counted, too."""
    chord = Chord.parse("G")
    assert not len(find_voicings(chord, FOUR, min_notes=4, no_doubles=True))
    found = explain_empty(chord, FOUR, Hand(), min_notes=4, no_doubles=True, row_bound=3)
    assert (found.condition, found.returning) == ("no_doubles", None)
    assert found.sentence.endswith("without the condition 'no tone twice' there are very many")


def test_the_first_of_the_order_is_named() -> None:
    """Fewer notes or doubled tones would both help: doubles come first."""
    without_doubles = find_voicings(Chord.parse("G"), FOUR, min_notes=4)
    fewer_notes = find_voicings(Chord.parse("G"), FOUR, no_doubles=True)
    assert len(without_doubles) > 0 < len(fewer_notes)
    found = explained("G", min_notes=4, no_doubles=True)
    assert (found.condition, found.returning) == ("no_doubles", len(without_doubles))


@pytest.mark.parametrize(
    ("symbol", "count", "conditions", "tones", "needed"),
    [
        # One essential tone each for C13b9#11: 3, b7, 13, b9, #11; a foreign bass is one more.
        ("C13b9#11", 4, {}, 7, 5),
        ("C13b9#11/E", 4, {}, 7, 5),
        ("C13b9#11/F", 4, {}, 8, 6),
        ("B13b9#11/D#", 4, {}, 7, 5),
        ("B13b9#11/E", 4, {}, 8, 6),
        # Three of the tones must sound by default, all where there are fewer.
        ("G", 2, {}, 3, 3),
        ("G", 2, {"min_tones": 4}, 3, 4),
        ("G5", 1, {}, 2, 2),
        ("C5/D", 2, {}, 3, 3),
        # Of 7alt the third, the seventh, one fifth and one ninth.
        ("C7alt", 2, {}, 7, 4),
    ],
)
def test_too_few_strings_are_told(
    symbol: str, count: int, conditions: dict[str, Any], tones: int, needed: int
) -> None:
    """More tones must sound than the instrument has strings: no condition is to blame."""
    strings = "1 string" if count == 1 else f"{count} strings"
    neck = Instrument.from_text(" ".join(["C3"] * count), frets=12, scale_mm=648.0, id="few")
    found = explained(symbol, neck, **conditions)
    assert (found.condition, found.returning) == (None, 0)
    assert found.sentence == (
        f"no playable voicing of {symbol}: of its {tones} tones {needed} must sound, "
        f"and few has {strings}"
    )


def test_more_than_one_thing_is_in_the_way() -> None:
    """A hand with neither reach nor fingers; strings there are enough."""
    hand = Hand(fingers=1, reach_mm=10.0)
    found = explain_empty(Chord.parse("Eb7"), FOUR, hand)
    assert (found.condition, found.returning) == (None, 0)
    assert found.sentence == (
        "no playable voicing of Eb7: more than one condition stands in the way"
    )
    three = Instrument.from_text("C3 C3 C3", frets=1, scale_mm=648.0, id="three")
    assert "more than one condition" in explained("G", three).sentence


def test_the_other_conditions_stay_what_they_are() -> None:
    """A note that was asked for on top stays a note when the number of notes is given up."""
    asked: dict[str, Any] = {"top_note": Note.parse("G"), "min_notes": 5}
    found = explained("G7", **asked)
    count = len(find_voicings(Chord.parse("G7"), FOUR, top_note=Note.parse("G")))
    assert (found.condition, found.returning) == ("min_notes", count)
    assert count > 0
