"""Which recipes each family has, against the trade's own description of it (common practice)."""

import pytest

from gripwright import Chord, ConditionError, Recipe
from gripwright.neck.strategies import BUILTIN_STRATEGIES
from gripwright.theory import QUALITIES, Note

STRATEGIES = {strategy.name: strategy for strategy in BUILTIN_STRATEGIES}

LOWERED = {
    "close": {},
    "drop-2": {2: 1},
    "drop-3": {3: 1},
    "drop-2-4": {2: 1, 4: 1},
    "drop-2-3": {2: 1, 3: 1},
    "double-drop": {2: 2, 3: 1},
}
"""Voices of a close chord that are lowered, counted from the top, and by how many octaves."""

FOUR_TONE_QUALITIES = [
    quality.name
    for quality in QUALITIES.values()
    if len({degree.semitones % 12 for degree in quality.degrees}) == len(quality.degrees) == 4
]


def stacks(name: str, symbol: str) -> list[str]:
    """Return the recipes of a strategy for a chord as degrees in one string each."""
    recipes = STRATEGIES[name].recipes(Chord.parse(symbol))
    return [" ".join(recipe.degrees) for recipe in recipes]


@pytest.mark.parametrize("quality", FOUR_TONE_QUALITIES)
@pytest.mark.parametrize("name", LOWERED)
def test_four_note_families_are_close_position_with_voices_lowered(name: str, quality: str) -> None:
    """Each recipe is an inversion in close position of which some voices lie octaves lower."""
    chord = Chord(Note.parse("C"), QUALITIES[quality])
    tones = sorted(chord.degrees, key=lambda degree: degree.semitones % 12)
    expected = set()
    for start in range(4):
        close = [
            (degree.semitones % 12 + 12 * (index < start), str(degree))
            for index, degree in enumerate(tones)
        ]
        close.sort()
        for voice, octaves in LOWERED[name].items():
            height, degree = close[-voice]
            close[-voice] = (height - 12 * octaves, degree)
        close.sort()
        expected.add(
            (
                tuple(degree for _, degree in close),
                tuple(height - close[0][0] for height, _ in close),
            )
        )
    recipes = STRATEGIES[name].recipes(chord)
    assert {(tuple(map(str, recipe.degrees)), recipe.offsets) for recipe in recipes} == expected


@pytest.mark.parametrize(
    ("name", "first"),
    [
        ("close", "1 3 5 7"),
        ("drop-2", "1 5 7 3"),
        ("drop-3", "1 7 3 5"),
        ("drop-2-4", "1 5 3 7"),
        ("drop-2-3", "1 3 7 5"),
        ("double-drop", "1 7 5 3"),
    ],
)
def test_the_six_orders_in_root_position(name: str, first: str) -> None:
    """The six orders of four tones above the root, as the trade writes them."""
    assert first in stacks(name, "Cmaj7")
    assert len(stacks(name, "Cmaj7")) == 4


@pytest.mark.parametrize(
    ("name", "symbol", "expected"),
    [
        ("shell", "Cmaj7", {"1 3 7", "1 7 3"}),
        ("shell", "Cm6", {"1 b3 6", "1 6 b3"}),
        ("shell", "C7sus4", {"1 4 b7", "1 b7 4"}),
        ("shell", "C7sus2", {"1 2 b7", "1 b7 2"}),
        ("shell", "Cdim7", {"1 b3 bb7", "1 bb7 b3"}),
        ("shell", "C", set()),
        ("shell", "C7no1", set()),
        ("guide-tones", "Dm7b5", {"b3 b7", "b7 b3"}),
        ("guide-tones", "C7no1", {"3 b7", "b7 3"}),
        ("guide-tones", "C7no3", set()),
        ("guide-tones", "C", set()),
        ("triads", "C", {"1 3 5", "3 5 1", "5 1 3"}),
        ("triads", "Bdim", {"1 b3 b5", "b3 b5 1", "b5 1 b3"}),
        ("triads", "Eaug", {"1 3 #5", "3 #5 1", "#5 1 3"}),
        ("spread", "C", {"1 5 3", "3 1 5", "5 3 1"}),
        ("close", "Am", {"1 b3 5", "b3 5 1", "5 1 b3"}),
    ],
)
def test_families_of_few_voices_have_these_stacks_and_no_others(
    name: str, symbol: str, expected: set[str]
) -> None:
    """Shells, guide tones and triads are few enough to write down."""
    assert set(stacks(name, symbol)) == expected


@pytest.mark.parametrize(
    ("symbol", "stack"),
    [
        ("Cmaj9", "3 5 7 9"),
        ("Cmaj9", "7 9 3 5"),
        ("Dm9", "b3 5 b7 9"),
        ("Dm9", "b7 9 b3 5"),
        ("G13", "3 13 b7 9"),
        ("G13", "b7 9 3 13"),
        ("G7", "3 13 b7 9"),
        ("G7", "3 5 b7 9"),
        ("G7b9", "b7 b9 3 5"),
        ("G9", "3 b7 9 5"),
    ],
)
def test_rootless_a_and_b_types(symbol: str, stack: str) -> None:
    """A is 3-5-7-9 and B 7-9-3-5, with 13 for 5 on dominants, close and drop 2."""
    assert stack in stacks("rootless", symbol)
    assert not any("1" in other.split() for other in stacks("rootless", symbol))


@pytest.mark.parametrize("symbol", ["C", "C5", "Csus4", "C7no3"])
def test_a_chord_without_third_or_seventh_has_no_rootless_voicing(symbol: str) -> None:
    """The guide tones are what tells such a voicing's chord."""
    assert stacks("rootless", symbol) == []


@pytest.mark.parametrize(
    ("symbol", "fifths"),
    [("C7b5", {"b5"}), ("C7#5", {"#5"}), ("C7", {"5", "13"}), ("Cmaj7#11", {"#11"})],
)
def test_an_altered_fifth_is_the_only_one(symbol: str, fifths: set[str]) -> None:
    """Fifth and ninth are the symbol's own where it alters them."""
    found = {tone for stack in stacks("rootless", symbol) for tone in stack.split()}
    assert found & {"b5", "5", "#5", "#11", "b13", "13"} == fifths


def test_no_thirteenth_stands_for_the_fifth_of_a_chord_that_is_no_dominant() -> None:
    """13 for 5 is the dominants' own."""
    assert not any("13" in stack.split() for stack in stacks("rootless", "Cmaj9"))
    assert not any("13" in stack.split() for stack in stacks("rootless", "Dm9"))


@pytest.mark.parametrize(
    ("symbol", "triad"),
    [
        ("G13#11", {"9", "#11", "13"}),
        ("G7b9#11", {"#11", "b7", "b9"}),
        ("G7#9b13", {"b13", "1", "#9"}),
        ("G13b9", {"13", "b9", "3"}),
    ],
)
def test_upper_structures_are_third_and_seventh_below_a_triad(symbol: str, triad: set[str]) -> None:
    """II gives 9 #11 13, bV gives #11 b7 b9, bVI gives b13 1 #9, VI gives 13 b9 3."""
    found = [stack.split() for stack in stacks("upper-structure", symbol)]
    assert all(set(stack[:2]) == {"3", "b7"} for stack in found)
    assert triad in [set(stack[2:]) for stack in found]


@pytest.mark.parametrize(
    ("symbol", "roots"),
    [
        ("G7", {"II", "bV", "bVI", "VI"}),
        ("G9", {"II"}),
        ("G7b9", {"bV", "bVI", "VI"}),
        ("G7#9", {"bV", "bVI", "VI"}),
        ("G7#5", {"bVI"}),
        ("G7b5", {"bV"}),
        # Of a dominant without root and fifth the frame is left; no triad brings the root back.
        ("G7no1no5", {"II", "bV", "VI"}),
    ],
)
def test_a_dominant_takes_the_triads_that_its_tensions_allow(symbol: str, roots: set[str]) -> None:
    """Natural tensions beside a natural 9, altered beside a b9; each triad close together."""
    triads = {
        "II": {"9", "#11", "13"},
        "bV": {"#11", "b7", "b9"},
        "bVI": {"b13", "1", "#9"},
        "VI": {"13", "b9", "3"},
    }
    found = set()
    for recipe in STRATEGIES["upper-structure"].recipes(Chord.parse(symbol)):
        upper = set(recipe.degrees[2:])
        found |= {root for root, triad in triads.items() if upper == triad}
        assert recipe.offsets[-1] - recipe.offsets[2] < 12
    assert found == roots


def test_upper_structures_belong_to_dominants() -> None:
    """A major or minor seventh chord has none."""
    assert stacks("upper-structure", "Cmaj7") == stacks("upper-structure", "Dm7") == []


@pytest.mark.parametrize("symbol", ["Dm11", "Cmaj7", "G7sus4", "Am", "C7alt", "Fmaj7#11", "Bdim7"])
def test_quartal_stacks_are_fourths_and_clusters_are_close(symbol: str) -> None:
    """Quartal: three notes or more, perfect or augmented fourths; a cluster has seconds."""
    chord = Chord.parse(symbol)
    for recipe in STRATEGIES["quartal"].recipes(chord):
        gaps = [high - low for low, high in zip(recipe.offsets, recipe.offsets[1:], strict=False)]
        assert 3 <= len(recipe.degrees) <= 6
        assert set(gaps) <= {5, 6}
    for recipe in STRATEGIES["cluster"].recipes(chord):
        gaps = [high - low for low, high in zip(recipe.offsets, recipe.offsets[1:], strict=False)]
        assert recipe.offsets[-1] < 12
        assert min(gaps) <= 2


def test_quartal_stacks_have_three_to_six_notes() -> None:
    """D dorian in fourths from each tone: six strings carry six notes at most."""
    found = stacks("quartal", "Dm11")
    assert {len(stack.split()) for stack in found} == {3, 4, 5, 6}
    assert {"1 11 b7", "1 11 b7 b3 13 9"} <= set(found)


@pytest.mark.parametrize("name", ["quartal", "cluster"])
@pytest.mark.parametrize("quality", QUALITIES)
def test_families_of_the_scale_keep_clear_of_the_tones_to_avoid(name: str, quality: str) -> None:
    """No tone that hides the chord, such as the 11 of a major chord, stands in them."""
    chord = Chord(Note.parse("C"), QUALITIES[quality])
    avoided = {degree.semitones % 12 for degree in chord.quality.avoid}
    for recipe in STRATEGIES[name].recipes(chord):
        assert avoided.isdisjoint(degree.semitones % 12 for degree in recipe.degrees)


@pytest.mark.parametrize("name", ["quartal", "cluster"])
@pytest.mark.parametrize(
    ("symbol", "wrong"), [("C7b5", "5"), ("C7#5", "5"), ("Cdim7", "3"), ("C7sus4b9", "3")]
)
def test_no_tone_of_the_scale_contradicts_the_chord(name: str, symbol: str, wrong: str) -> None:
    """No natural fifth beside an altered one, and no major third in a diminished chord.

    The tones to avoid, and the scales: 7b5 and 7#5 avoid the natural 5; dim7 is whole-half;
    susb9 is phrygian or dorian b2 (common practice).
    """
    assert not any(wrong in stack.split() for stack in stacks(name, symbol))


@pytest.mark.parametrize("symbol", ["G9sus4", "Cmaj7", "Dm11", "C/D", "Cmaj9/E"])
def test_a_triad_over_a_bass_is_a_triad_above_none_of_its_tones(symbol: str) -> None:
    """The upper tones, without the doubled one, are a close triad that lacks the bass."""
    chord = Chord.parse(symbol)
    recipes = list(STRATEGIES["triad-over-bass"].recipes(chord))
    assert recipes
    for recipe in recipes:
        upper = recipe.degrees if chord.foreign_bass else recipe.degrees[1:]
        tones = sorted({degree.semitones % 12 for degree in upper})
        turned = [sorted((tone - low) % 12 for tone in tones) for low in tones]
        assert any(form in turned for form in ([0, 4, 7], [0, 3, 7], [0, 3, 6], [0, 4, 8]))
        if not chord.foreign_bass:
            assert recipe.degrees[0].semitones % 12 not in tones


@pytest.mark.parametrize(
    ("symbol", "bass", "above"),
    [
        ("Cmaj9/E", "3", {"5 7 9"}),
        # Eb is the b3 and the #9 alike: it sounds once.
        ("Cm11(add#9)/Eb", "b3", {"5 b7 9", "b7 9 11"}),
        ("Dm7/G", "", {"1 b3 5", "b3 5 b7"}),
    ],
)
def test_a_slash_bass_is_the_one_tone_below_the_triad(
    symbol: str, bass: str, above: set[str]
) -> None:
    """A bass that the chord has stands first, alone; one that it has not is no tone of a stack."""
    first = len(bass.split())
    found = [stack.split() for stack in stacks("triad-over-bass", symbol)]
    assert {" ".join(stack[:first]) for stack in found} == {bass}
    triads = {frozenset(stack[first:]) for stack in found}
    assert triads == {frozenset(triad.split()) for triad in above}


@pytest.mark.parametrize(
    ("symbol", "stack"), [("C5", "1 5 1"), ("F", "1 5 1 3 5 1"), ("Cmaj7", "1 5 7 3 5")]
)
def test_octave_doubled_has_the_grips_that_everyone_knows(symbol: str, stack: str) -> None:
    """The power chord of three strings, and the first barre chords of F and, at fret 3, of Cmaj7.

    Common practice: 1-3-3, 1-3-3-2-1-1 and x-3-5-4-5-3.
    """
    assert stack in stacks("octave-doubled", symbol)


def test_octave_doubled_stacks_double() -> None:
    """Each has four to six voices and fewer tones than voices."""
    found = list(STRATEGIES["octave-doubled"].recipes(Chord.parse("F")))
    assert found
    for recipe in found:
        assert 3 <= len(recipe.degrees) <= 6
        assert len(set(recipe.degrees)) < len(recipe.degrees)


def test_a_chord_of_more_tones_than_the_family_keeps_its_essential_ones() -> None:
    """The drop 2 of C13 has 3, b7 and 13 and one more tone."""
    kept = [set(stack.split()) for stack in stacks("drop-2", "C13")]
    assert kept
    assert all(stack > {"3", "b7", "13"} for stack in kept)
    assert {frozenset(stack - {"3", "b7", "13"}) for stack in kept} == {
        frozenset({"1"}),
        frozenset({"5"}),
        frozenset({"9"}),
    }


def test_more_essential_tones_than_voices_leave_no_recipe() -> None:
    """Four voices cannot hold the five essential tones of C13b9#11."""
    assert stacks("drop-2", "C13b9#11") == []


@pytest.mark.parametrize(
    ("degrees", "gaps"),
    [
        (("1", "5"), (8,)),
        (("1", "5"), (7, 5)),
        (("1", "5"), (-5,)),
        (("1", "1"), (0,)),
        ((), (7,)),
    ],
)
def test_gaps_that_do_not_lead_to_the_next_degree_are_refused(
    degrees: tuple[str, ...], gaps: tuple[int, ...]
) -> None:
    """An exact interval must be one between the degrees, upwards."""
    with pytest.raises(ConditionError) as caught:
        Recipe(degrees, gaps=gaps)
    assert caught.value.name == "gaps"


def test_gaps_place_tones_beyond_the_next_place() -> None:
    """Root, fifth and the third a tenth up, against the third next above."""
    assert Recipe(("1", "5", "3")).offsets == (0, 7, 16)
    assert Recipe(("1", "5", "3"), gaps=(7, 21)).offsets == (0, 7, 28)
    assert Recipe(("1", "1")).offsets == (0, 12)
    assert Recipe(()).offsets == ()


@pytest.mark.parametrize("name", STRATEGIES)
def test_each_family_says_which_chord_it_voices(name: str) -> None:
    """Shells and guide tones its frame, colours its tensions or its scale, the others itself."""
    readings = {
        **dict.fromkeys(("shell", "guide-tones"), "frame"),
        **dict.fromkeys(("rootless", "upper-structure"), "tensions"),
        **dict.fromkeys(("quartal", "cluster"), "scale"),
    }
    recipes = [
        recipe for symbol in ("C", "G7") for recipe in STRATEGIES[name].recipes(Chord.parse(symbol))
    ]
    assert {recipe.voices for recipe in recipes} == {readings.get(name, "as_written")}


def test_an_unknown_reading_is_refused() -> None:
    """A recipe voices the chord as written, its frame, tensions or scale."""
    with pytest.raises(ConditionError) as caught:
        Recipe(("1", "5"), "all")  # type: ignore[arg-type]
    assert caught.value.name == "voices"
