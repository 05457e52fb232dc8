"""The search on short necks: every shape that the literal enumerator finds, and no other.

The quick companion of the laws of the search: few strings and frets, each condition once.
"""

from typing import Any

import attrs
import pytest

from gripwright import (
    Chord,
    Hand,
    Instrument,
    InstrumentString,
    Note,
    Pitch,
    Recipe,
    VoicingTable,
    find_voicings,
)
from gripwright.errors import ConditionError, RowBoundError
from gripwright.neck import halves, join
from tests.core.neck.enumerator import Limits, neck_of, tones_of, voicings

Frets = list[tuple[int, ...]]

FOUR = Instrument.from_text("D3 G3 B3 E4", frets=6, scale_mm=648.0, id="four")
REENTRANT = Instrument.from_text("G4 C4 E4 A4", frets=5, scale_mm=345.0, id="reentrant")
UNISON = Instrument.from_text("D3 D3 G3 C4 E4", frets=4, scale_mm=648.0, id="unison")
THREE = Instrument.from_text("C3 G3 E4", frets=7, scale_mm=648.0, id="three")
ONE = Instrument.from_text("C3", frets=5, scale_mm=648.0, id="one")
LATE = Instrument(
    id="late",
    name="late",
    strings=(
        InstrumentString(Pitch.parse("G4"), 670.0, first_fret=5),
        *(InstrumentString(Pitch.parse(text), 670.0) for text in ("D3", "G3", "B3", "D4")),
    ),
    frets=8,
)
FANNED = Instrument(
    id="fanned",
    name="fanned",
    strings=tuple(
        InstrumentString(Pitch.parse(text), 700.0 - 30 * index)
        for index, text in enumerate(("D3", "G3", "B3", "E4"))
    ),
    frets=6,
    align_fret=4.0,
)


@attrs.frozen
class Strategy:
    """A strategy of recipes that are given."""

    given: tuple[Recipe, ...]
    name: str = "given"
    summary: str = "Recipes that are given."

    def recipes(self, _chord: Chord, /) -> tuple[Recipe, ...]:
        """Return the recipes, whatever the chord."""
        return self.given


def shapes(table: VoicingTable) -> Frets:
    """Return the frets of a table, row by row."""
    return [tuple(row) for row in table.frets.tolist()]


def literal(symbol: str, instrument: Instrument, hand: Hand, **conditions: Any) -> Frets:
    """Return what the enumerator finds."""
    return voicings(
        tones_of(Chord.parse(symbol)),
        neck_of(instrument),
        fingers=hand.fingers,
        reach=hand.reach_mm,
        limits=Limits(**conditions),
    )


@pytest.mark.parametrize(
    "conditions",
    [
        {},
        {"stroke": "strum"},
        {"stroke": "strum", "no_inner_mutes": True},
        {"stroke": "pluck", "pluck_fingers": 4},
        {"stroke": "pluck", "pluck_fingers": 5},
        {"min_notes": 1, "min_tones": 1},
        {"min_notes": 2, "min_tones": 2, "stroke": "strum"},
        {"min_notes": 4},
        {"max_notes": 3},
        {"min_tones": 4},
        {"root": "required"},
        {"root": "none"},
        {"lowest_fret": 2},
        {"highest_fret": 3},
        {"lowest_fret": 3, "highest_fret": 3, "min_notes": 1, "min_tones": 1},
        {"strings": (4, 2, 1)},
        {"strings": (3, 2, 1), "no_open": True},
        {"strings": (4, 3, 2, 1), "min_notes": 1},
        {"strings": (3,), "min_notes": 1, "min_tones": 1},
        {"no_open": True},
        {"no_inner_mutes": True},
        {"no_doubles": True},
        {"bass_degree": "1"},
        {"bass_degree": "3"},
        {"top_degree": "5"},
        {"top_degree": "b7", "bass_degree": "3"},
        {"top_note": Note.parse("G")},
        {"top_note": Pitch.parse("G4")},
        {"top_note": Note.parse("G"), "top_degree": "1"},
        {"top_note": Note.parse("G"), "top_degree": "3"},
        {"top_note": Pitch.parse("G4"), "top_degree": "3"},
    ],
    ids=str,
)
@pytest.mark.parametrize("instrument", [FOUR, REENTRANT, UNISON], ids=lambda own: own.id)
def test_under_each_condition(instrument: Instrument, conditions: dict[str, Any]) -> None:
    """What is left is what the enumerator leaves, in the same order."""
    hand = Hand()
    found = find_voicings(Chord.parse("G7"), instrument, hand, **conditions)
    assert shapes(found) == literal("G7", instrument, hand, **conditions)


@pytest.mark.parametrize(
    "hand",
    [
        Hand(),
        Hand(fingers=2),
        Hand(fingers=3, reach_mm=70.0),
        Hand(reach_mm=40.0),
        Hand(fingers=5, reach_mm=200.0),
    ],
    ids=str,
)
@pytest.mark.parametrize("symbol", ["C", "G7", "Am9", "C/D", "G/B", "E5", "C7alt", "D5/G"])
@pytest.mark.parametrize(
    "instrument",
    [FOUR, FANNED, THREE, LATE, REENTRANT, ONE],
    ids=lambda own: own.id,
)
def test_under_each_hand(instrument: Instrument, symbol: str, hand: Hand) -> None:
    """Chords with and without a bass of their own, necks of all sorts, hands large and small."""
    found = find_voicings(Chord.parse(symbol), instrument, hand)
    assert shapes(found) == literal(symbol, instrument, hand)


@pytest.mark.parametrize("symbol", ["C/D", "C5/D", "C/E", "C5/G"])
def test_a_foreign_bass_sounds_at_the_lowest_pitch_alone(symbol: str) -> None:
    """Two strings in unison may both sound it; no higher one may."""
    found = shapes(find_voicings(Chord.parse(symbol), UNISON))
    assert found == literal(symbol, UNISON, Hand())
    if symbol == "C/D":
        assert (0, 0, 0, 0, 0) in found
        assert (0, -1, 0, 2, 0) not in found


@pytest.mark.parametrize("degree", ["1", "3", "5"])
def test_a_bass_that_is_asked_for_is_the_bass_of_the_symbol_too(degree: str) -> None:
    """No note is the lowest beside another: only the E of C/E can be asked for."""
    found = shapes(find_voicings(Chord.parse("C/E"), FOUR, bass_degree=degree))
    assert found == literal("C/E", FOUR, Hand(), bass_degree=degree)
    assert bool(found) == (degree == "3")


def test_under_a_strum_a_finger_damps_the_next_string_alone() -> None:
    """A finger on the first string leaves the third to ring; one on the second or fourth not."""
    own = Instrument.from_text("E3 B3 F4 E5", frets=3, scale_mm=648.0)
    any_stroke, strum = (
        shapes(find_voicings(Chord.parse("Em"), own, stroke=stroke)) for stroke in ("any", "strum")
    )
    assert (3, 0, -1, 0) in any_stroke
    assert (3, 0, -1, 0) not in strum
    assert (0, 0, -1, 3) in strum
    assert strum == literal("Em", own, Hand(), stroke="strum")


def test_a_hand_reaches_as_far_as_it_says_and_no_farther() -> None:
    """The reach itself is allowed; a micrometre less is not."""
    chord, wanted = Chord.parse("G7"), (-1, 4, 6, 3)
    reach_mm = FOUR.place_mm(2, 6) - FOUR.place_mm(3, 3)
    assert wanted in shapes(find_voicings(chord, FOUR, Hand(reach_mm=reach_mm)))
    assert wanted not in shapes(find_voicings(chord, FOUR, Hand(reach_mm=reach_mm - 0.001)))


@pytest.mark.parametrize("symbol", ["G7", "C/D"])
@pytest.mark.parametrize("at_once", [1, 2, 7, 64, 1000])
def test_what_is_found_does_not_depend_on_how_much_is_made_at_once(
    symbol: str, at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Memory is bounded by working in portions: whatever their size, the rows are the same."""
    monkeypatch.setattr(join, "_PAIRS_AT_ONCE", at_once)
    monkeypatch.setattr(join, "_CELLS_AT_ONCE", 10 * at_once)
    monkeypatch.setattr(halves, "_BLOCK", at_once)
    found = find_voicings(Chord.parse(symbol), UNISON)
    assert shapes(found) == literal(symbol, UNISON, Hand())
    assert found.columns["presses"].tolist() == [voicing.presses for voicing in found]


def test_more_rows_than_the_bound_are_refused_whole_or_in_portions(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The bound itself is allowed, one row less is not, however many are made at once."""
    chord = Chord.parse("G7")
    rows = len(find_voicings(chord, UNISON))
    for at_once in (250_000, 10):
        monkeypatch.setattr(join, "_PAIRS_AT_ONCE", at_once)
        assert len(find_voicings(chord, UNISON, row_bound=rows)) == rows
        with pytest.raises(RowBoundError, match="narrow it by") as caught:
            find_voicings(chord, UNISON, row_bound=rows - 1)
        assert caught.value.bound == rows - 1


def test_a_half_that_explodes_is_refused_while_it_is_small(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Sixteen strings have more halves than memory: the bound counts them as they grow."""
    wide = Instrument.from_text(" ".join(["C3"] * 16), frets=24, scale_mm=648.0)
    monkeypatch.setattr(halves, "_BLOCK", 100)
    with pytest.raises(RowBoundError, match="narrow it by") as caught:
        find_voicings(Chord.parse("C13"), wide, row_bound=1000)
    assert caught.value.bound == 1000


def test_strings_that_the_instrument_has_not_are_refused() -> None:
    """The error says how many there are; the last of them is allowed."""
    chord = Chord.parse("C")
    assert len(find_voicings(chord, FOUR, strings=(4, 3, 2)))
    with pytest.raises(ConditionError) as caught:
        find_voicings(chord, FOUR, strings=(5, 3, 2))
    assert caught.value.name == "strings"
    assert caught.value.value == (5, 3, 2)
    assert caught.value.expected == "string numbers from 1 to 4"


def stacked(
    symbol: str, instrument: Instrument, recipes: tuple[Recipe, ...], **conditions: Any
) -> Frets:
    """Return the rows of the enumerator whose voices stand as one of some recipes says.

    Each recipe is held against the sorted pitches literally: no two on one pitch, the lowest the
    recipe's first degree, and the others its offsets above. A foreign bass may lie below the stack.
    """
    chord = Chord.parse(symbol)
    root = chord.root.pitch_class
    foreign = chord.bass.pitch_class if chord.bass is not None and chord.foreign_bass else None

    def stands(pitches: list[int], recipe: Recipe) -> bool:
        return (
            len(pitches) == len(recipe.degrees)
            and (pitches[0] - root) % 12 == recipe.degrees[0].semitones % 12
            and tuple(pitch - pitches[0] for pitch in pitches) == recipe.offsets
        )

    def made(frets: tuple[int, ...]) -> bool:
        pitches = sorted(instrument.sounding(s, f) for s, f in enumerate(frets) if f >= 0)
        above = [pitch for pitch in pitches if pitch != pitches[0]]
        one_below = len(above) == len(pitches) - 1 and pitches[0] % 12 == foreign
        return any(
            stands(pitches, recipe) or (one_below and stands(above, recipe)) for recipe in recipes
        )

    return [frets for frets in literal(symbol, instrument, Hand(), **conditions) if made(frets)]


CLOSE = (
    Recipe(("1", "3", "5", "b7")),
    Recipe(("3", "5", "b7", "1")),
    Recipe(("5", "b7", "1", "3")),
)
OPEN = (Recipe(("1", "b7", "3")), Recipe(("3", "b7", "1", "5")), Recipe(("5", "1", "3", "b7")))


@pytest.mark.parametrize("recipes", [CLOSE, OPEN, (*CLOSE, *OPEN), CLOSE[:1]], ids=len)
@pytest.mark.parametrize("instrument", [FOUR, REENTRANT, UNISON, FANNED], ids=lambda own: own.id)
@pytest.mark.parametrize("symbol", ["G7", "C7", "D7", "G7/A"])
def test_under_recipes(symbol: str, instrument: Instrument, recipes: tuple[Recipe, ...]) -> None:
    """Of the same rows those remain whose pitches stand as a recipe stacks them."""
    found = find_voicings(Chord.parse(symbol), instrument, Hand(), Strategy(recipes))
    assert shapes(found) == stacked(symbol, instrument, recipes)


ABOVE = (
    Recipe(("1", "b7", "3")),
    Recipe(("1", "3", "b7")),
    Recipe(("1", "3", "b7", "3")),
)
WITH_BASS = Recipe(("9", "b7", "1", "3"), "tensions")
LOW = ("A2 A2 F3 G3 B3 F4 B4", "F3 A2 G3 B3 A2 F4 B4", "B4 F4 G3 F3 B3 A2 A2")


@pytest.mark.parametrize("recipes", [ABOVE, ABOVE[:1], (WITH_BASS, *ABOVE), (WITH_BASS,)], ids=len)
@pytest.mark.parametrize("strings", LOW)
def test_a_stack_stands_above_one_foreign_bass(strings: str, recipes: tuple[Recipe, ...]) -> None:
    """Wherever it is strung, but not above two in unison; or the recipe has the bass itself."""
    own = Instrument.from_text(strings, frets=1, scale_mm=648.0, id="low")
    found = shapes(find_voicings(Chord.parse("G7/A"), own, Hand(), Strategy(recipes)))
    assert found == stacked("G7/A", own, recipes, min_notes=1)
    assert found


@pytest.mark.parametrize("instrument", [UNISON, REENTRANT, FOUR], ids=lambda own: own.id)
def test_two_voices_on_one_pitch_are_not_one_voice(instrument: Instrument) -> None:
    """A stack of three on four strings is no stack of four that has the same tones."""
    recipes = (Recipe(("1", "5", "3")), Recipe(("1", "5", "3", "5")), Recipe(("5", "1", "3")))
    for symbol in ("D", "G", "C", "F"):
        found = find_voicings(Chord.parse(symbol), instrument, strategy=Strategy(recipes))
        assert shapes(found) == stacked(symbol, instrument, recipes)


@pytest.mark.parametrize(
    ("recipe", "found"),
    [
        (Recipe(("1", "5"), gaps=(7,)), [(0, 0)]),
        (Recipe(("1", "5"), gaps=(19,)), []),
        (Recipe(("1", "1"), "scale", gaps=(12,)), [(0, 5)]),
    ],
    ids=str,
)
def test_gaps_are_exact(recipe: Recipe, found: Frets) -> None:
    """A fifth is no twelfth, and an octave no unison."""
    two = Instrument.from_text("C3 G3", frets=5, scale_mm=648.0)
    assert shapes(find_voicings(Chord.parse("C5"), two, strategy=Strategy((recipe,)))) == found


def test_a_strategy_is_asked_for_the_chord_that_is_searched() -> None:
    """Its recipes name the tones too: a tone that the chord has not is called as they call it."""
    asked = []

    class Asked(Strategy):
        def recipes(self, chord: Chord, /) -> tuple[Recipe, ...]:
            asked.append(chord)
            return self.given

    chord = Chord.parse("C7")
    table = find_voicings(chord, FOUR, strategy=Asked((Recipe(("3", "b7", "9"), "tensions"),)))
    assert asked == [chord]
    assert {voicing.degrees for voicing in table} == {("3", "b7", "9")}


@pytest.mark.parametrize("recipes", [(), (Recipe(("1", "5")),)])
def test_where_no_stack_voices_the_chord_nothing_is_found(recipes: tuple[Recipe, ...]) -> None:
    """Neither without any recipe nor by one that lacks the third."""
    assert len(find_voicings(Chord.parse("C"), FOUR, strategy=Strategy(recipes))) == 0


def test_a_stack_wider_than_five_octaves_is_no_other() -> None:
    """Pitches are told apart however far they lie: C0 and G5 are no fifth."""
    wide = Instrument.from_text("C0 G5", frets=3, scale_mm=648.0)
    chord = Chord.parse("C5")
    assert shapes(find_voicings(chord, wide)) == [(0, 0)]
    for gap in (7, 19, 55, 67):
        strategy = Strategy((Recipe(("1", "5"), gaps=(gap,)),))
        assert shapes(find_voicings(chord, wide, strategy=strategy)) == []


def test_a_stack_of_five_octaves_and_a_third_is_the_widest() -> None:
    """It is found; a semitone more is another tone, however far it lies."""
    wide = Instrument.from_text("C0 Eb5", frets=1, scale_mm=648.0)
    minor, major = (
        Recipe(("1", third), "scale", gaps=(gap,)) for third, gap in (("b3", 63), ("3", 4))
    )
    for recipes, expected in (((minor,), [(0, 0)]), ((minor, major), [(0, 0)]), ((major,), [])):
        found = find_voicings(Chord.parse("Cm"), wide, strategy=Strategy(recipes))
        assert shapes(found) == expected
