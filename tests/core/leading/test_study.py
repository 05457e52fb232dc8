"""Top-note studies: the line that was asked for, exactly the cheapest, known beside new."""

import functools
from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import (
    Chord,
    ConditionError,
    Hand,
    Pitch,
    Voicing,
    find_voicings,
)
from gripwright.errors import NoCandidateError
from gripwright.leading import LineWeights, study, voice_motion
from gripwright.leading.top_note import TopNotes, under_top
from gripwright.neck.strategies import BUILTIN_STRATEGIES
from gripwright.theory.scale import scales
from tests.core.neck.reference import instrument

GUITAR = instrument("guitar")
DROP_2 = next(strategy for strategy in BUILTIN_STRATEGIES if strategy.name == "drop-2")
MOTION_ONLY = LineWeights(travel=0, ease=0)
UPPER = (4, 3, 2, 1)
SYMBOLS = st.sampled_from(["Dm7", "G7", "Cmaj7", "C", "Am", "Bm7b5", "C7alt", "F6", "Bbdim7"])


def pitches(text: str) -> list[Pitch]:
    """Return the pitches of a line."""
    return [Pitch.parse(name) for name in text.split()]


def names(line: tuple[Pitch, ...]) -> str:
    """Return a line as text."""
    return " ".join(map(str, line))


@pytest.mark.parametrize(
    ("symbol", "line"),
    [
        # Dorian on a minor seventh chord; ionian without the fourth on a major seventh chord;
        # mixolydian without it on a dominant (common practice).
        ("Dm7", "D5 E5 F5 G5 A5 B5 C6"),
        ("Cmaj7", "D5 E5 G5 A5 B5 C6"),
        ("G7", "D5 E5 F5 G5 A5 B5"),
    ],
)
def test_top_notes_walk_the_usual_scale(symbol: str, line: str) -> None:
    """Rising as written, falling backwards, and an arch both ways without a note twice on top."""
    bounds = {"lowest": Pitch.parse("D5"), "highest": Pitch.parse("C6")}
    asked = {**bounds, "string_sets": [UPPER]}
    rising = study(Chord.parse(symbol), GUITAR, **asked)  # type: ignore[arg-type]
    assert names(rising.top_line) == line
    assert rising.skipped == ()
    falling = study(Chord.parse(symbol), GUITAR, contour="falling", **asked)  # type: ignore[arg-type]
    assert falling.top_line == rising.top_line[::-1]
    arch = study(Chord.parse(symbol), GUITAR, contour="arch", **asked)  # type: ignore[arg-type]
    assert arch.top_line == (*rising.top_line, *falling.top_line[1:])


def test_a_scale_that_is_given_is_walked_whole() -> None:
    """Lydian over Cmaj7 brings F#; notes are spelled from the chord's root."""
    lydian = next(scale for scale in scales() if scale.name == "lydian")
    found = study(
        Chord.parse("Cmaj7"),
        GUITAR,
        top=lydian,
        lowest=Pitch.parse("C5"),
        highest=Pitch.parse("C6"),
        string_sets=[UPPER],
    )
    assert names(found.top_line) == "C5 D5 E5 F#5 G5 A5 B5 C6"


@settings(max_examples=20)
@given(symbol=SYMBOLS, data=st.data())
def test_each_voicing_is_what_was_asked_for(symbol: str, data: st.DataObject) -> None:
    """One of the string sets exactly, essential tones sounding, an added tone on top alone."""
    chord = Chord.parse(symbol)
    sets = data.draw(st.lists(st.sampled_from([(5, 4, 3, 2), (3, 2, 1), (6, 4, 3, 2)]), max_size=2))
    sets.append(UPPER)
    found = study(chord, GUITAR, string_sets=sets, contour="falling")
    tones = {degree.pitch_class for degree in chord.degrees}
    for voicing, top in zip(found.voicings, found.top_line, strict=True):
        assert voicing.chord == chord
        assert voicing.string_set in sets
        assert max(voicing.midi) == top.midi
        sounding = {degree.pitch_class for degree in voicing.degrees}
        assert all(sounding & {d.pitch_class for d in group} for group in chord.essential)
        foreign = [m for m in voicing.midi if (m - chord.root.pitch_class) % 12 not in tones]
        assert set(foreign) <= {top.midi}
    midi = [pitch.midi for pitch in found.top_line]
    assert midi == sorted(set(midi), reverse=True)
    assert not {pitch.midi for pitch in found.skipped} & set(midi)


def test_a_tension_sounds_on_top_and_nowhere_else() -> None:
    """Of a chord's voicings with a ninth added, those with another ninth inside are left out."""
    chord, ninth = Chord.parse("Dm7"), Pitch.parse("E4")
    search = TopNotes.of(chord, GUITAR, hand=Hand(), strategy=None, string_sets=None, conditions={})
    every = find_voicings(under_top(chord, ninth), GUITAR, top_note=ninth)
    alone = {v.frets for v in every if all(m == ninth.midi or m % 12 != 4 for m in v.midi)}
    assert {voicing.frets for voicing in search.under(ninth)} == alone
    assert 0 < len(alone) < len(every)


@settings(max_examples=12)
@given(
    symbol=st.sampled_from(["Dm7", "G7", "Cmaj7"]),
    data=st.data(),
    alternation=st.integers(0, 20),
)
def test_the_study_is_the_cheapest_of_all(
    symbol: str, data: st.DataObject, alternation: int
) -> None:
    """No other choice of drop-2 voicings costs less: every one of them is looked at."""
    chord = Chord.parse(symbol)
    table = find_voicings(chord, GUITAR, strategy=DROP_2)
    tops = data.draw(
        st.lists(st.sampled_from(sorted({max(v.midi) for v in table})), min_size=1, max_size=3)
    )
    known = data.draw(st.lists(st.sampled_from(list(table)), max_size=30))
    found = study(
        chord,
        GUITAR,
        top=[Pitch.from_midi(midi) for midi in tops],
        strategy=DROP_2,
        known=known,
        alternation=alternation,
        weights=MOTION_ONLY,
    )
    grips = {voicing.frets for voicing in known}

    @functools.cache
    def moved(one: tuple[int, ...], other: tuple[int, ...]) -> int:
        return voice_motion(one, other, stranger=MOTION_ONLY.stranger)

    def cost(way: tuple[Voicing, ...]) -> int:
        motion = sum(moved(one.midi, other.midi) for one, other in pairwise(way))
        if not grips:
            return motion
        # As if a known voicing stood before the first and after the last new one.
        knows = [voicing.frets in grips for voicing in way]
        alike = sum(one == other for one, other in pairwise(knows))
        ends = (not knows[0]) + (not knows[-1] and len(way) > 1)
        return motion + alternation * (alike + ends)

    layers = [[voicing for voicing in table if max(voicing.midi) == midi] for midi in tops]
    assert found.cost == 1000 * min(map(cost, product(*layers)))
    assert found.cost == 1000 * cost(found.voicings)
    assert found.known == tuple(voicing.frets in grips for voicing in found.voicings)


def test_new_voicings_stand_between_known_ones() -> None:
    """Every second voicing of a study being known, a dear alternation puts one new between each."""
    chord = Chord.parse("Cmaj7")
    every = study(chord, GUITAR, strategy=DROP_2, string_sets=[UPPER])
    tops = every.top_line[:7]
    found = study(chord, GUITAR, top=tops, known=every.voicings[:7:2], alternation=1000)
    assert found.known == (True, False, True, False, True, False, True)
    assert found.voicings[::2] == every.voicings[:7:2]


def test_a_known_voicing_counts_though_few_candidates_are_compared() -> None:
    """It is a candidate whatever the teaching order thinks of it."""
    chord = Chord.parse("G7")
    table = find_voicings(chord, GUITAR, top_note="F4")
    worst = max(table, key=lambda voicing: voicing.reach_mm)
    top = [Pitch.parse("F4")]
    assert study(chord, GUITAR, top=top, known=[worst], candidates=1, alternation=1000).known == (
        True,
    )


def test_a_study_is_a_line_of_bars_to_drill() -> None:
    """Its line has one voicing a bar of four, and costs what the study costs."""
    found = study(Chord.parse("Dm7"), GUITAR, string_sets=[UPPER])
    assert [step.onset for step in found.line.steps] == [
        4 * bar for bar in range(len(found.voicings))
    ]
    assert [step.bar for step in found.line.steps][:2] == [1, 2]
    assert found.cost == found.line.cost > 0
    assert study(Chord.parse("Dm7"), GUITAR, top=[]).voicings == ()


def test_a_note_without_a_voicing_is_refused_with_its_place() -> None:
    """The chord, the note and the number without it are named."""
    with pytest.raises(NoCandidateError, match="bar 2: without C2 on top there are") as caught:
        study(Chord.parse("C"), GUITAR, top=pitches("C5 C2"))
    assert caught.value.bar == 2
    with pytest.raises(NoCandidateError, match="bar 1"):
        study(Chord.parse("Cmaj7"), GUITAR, top=pitches("D5"), as_written=True)
    with pytest.raises(NoCandidateError, match="that top note"):
        study(Chord.parse("C"), GUITAR, lowest=Pitch.parse("C8"), highest=Pitch.parse("C9"))


@pytest.mark.parametrize(
    ("setting", "value"),
    [
        ("candidates", 0),
        ("alternation", -1),
        ("contour", "wavy"),
        ("string_sets", []),
        ("string_sets", [(7, 6)]),
        ("string_sets", [()]),
    ],
)
def test_settings_outside_their_range_are_refused(setting: str, value: object) -> None:
    """Each is named."""
    with pytest.raises(ConditionError, match=setting):
        study(Chord.parse("C"), GUITAR, **{setting: value})  # type: ignore[arg-type]
