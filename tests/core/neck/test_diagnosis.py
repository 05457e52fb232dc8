"""Why a shape is no playable voicing, each reason with what it misses by."""

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from gripwright import Chord, ConditionError, Hand, Instrument, find_voicings
from gripwright.neck import diagnosis
from gripwright.neck.conditions import Conditions
from gripwright.neck.diagnosis import Diagnosis, diagnose
from gripwright.neck.teaching import teaching_weight
from tests.core.neck.reference import frets_of, instrument
from tests.core.neck.searches import Search, searches

GUITAR = instrument("guitar")


def apart_mm(low: int, high: int) -> float:
    """Return how far two frets of the guitar lie apart: fret n at L(1 - 2^(-n/12)) from the nut."""
    return 648.0 * (2 ** (-low / 12) - 2 ** (-high / 12))


def say(symbol: str, shape: str, hand: Hand | None = None, **conditions: Any) -> Diagnosis:
    """Diagnose a shape on the standard guitar."""
    return diagnose(
        Chord.parse(symbol),
        GUITAR,
        frets_of(shape),
        hand or Hand(),
        conditions=Conditions(**conditions),
    )


def faults(found: Diagnosis) -> dict[str, str]:
    """Return the last sentence of each kind of fault."""
    return {fault.kind: fault.sentence for fault in found.faults}


def differing(one: Sequence[int], other: Sequence[int]) -> int:
    """Count the strings on which two shapes differ."""
    return sum(here != there for here, there in zip(one, other, strict=True))


def is_beside(one: Sequence[int], other: Sequence[int]) -> bool:
    """Tell whether the fretted strings of a shape lie within two frets of those of another."""
    fretted = [fret for fret in other if fret > 0] or [1]
    return all(min(fretted) - 2 <= fret <= max(fretted) + 2 for fret in one if fret > 0)


@st.composite
def shapes(draw: st.DrawFn, search: Search) -> tuple[int, ...]:
    """A shape that is a voicing, one with a string or two changed, or any at all."""
    table = search.find()
    strings = search.instrument.strings
    choices = [
        (-1, 0, *range(string.first_fret + 1, search.instrument.frets + 1)) for string in strings
    ]
    frets = [draw(st.sampled_from(options)) for options in choices]
    if len(table) and draw(st.sampled_from([True, True, False])):
        frets = table.frets[draw(st.integers(0, len(table) - 1))].tolist()
        for _ in range(draw(st.integers(0, 2))):
            string = draw(st.integers(0, len(strings) - 1))
            frets[string] = draw(st.sampled_from(choices[string]))
    return tuple(frets)


@st.composite
def diagnoses(draw: st.DrawFn) -> tuple[Search, tuple[int, ...]]:
    """A search under the conditions that a diagnosis knows, and a shape for it."""
    search = draw(searches(bare=True))
    conditions: dict[str, Any] = draw(
        st.sampled_from(
            [
                {},
                {"stroke": "strum"},
                {"stroke": "pluck"},
                {"stroke": "pluck", "pluck_fingers": 5},
                {"min_notes": 4},
                {"min_notes": 1, "min_tones": 1},
                {"min_tones": 4},
            ]
        )
    )
    search = Search(search.chord, search.instrument, search.hand, conditions)
    return search, draw(shapes(search))


@settings(max_examples=150)
@given(diagnoses())
def test_no_fault_is_found_in_a_voicing_and_some_in_all_else(
    drawn: tuple[Search, tuple[int, ...]],
) -> None:
    """A shape is without fault exactly where the search finds it."""
    search, frets = drawn
    found = diagnose(
        search.chord,
        search.instrument,
        frets,
        search.hand,
        conditions=Conditions(**search.conditions),
    )
    is_voicing = list(frets) in search.find().frets.tolist()
    event("a voicing" if is_voicing else "no voicing")
    assert (found.faults == ()) == is_voicing


@settings(max_examples=60)
@given(diagnoses(), st.integers(0, 5))
def test_what_is_offered_instead_is_playable_and_near(
    drawn: tuple[Search, tuple[int, ...]], most: int
) -> None:
    """Voicings under the same conditions, the nearest of those around the hand first."""
    search, frets = drawn
    found = diagnose(
        search.chord,
        search.instrument,
        frets,
        search.hand,
        conditions=Conditions(**search.conditions),
        most=most,
    )
    table = search.find().frets
    offered = [differing(voicing.frets, frets) for voicing in found.instead]
    assert offered == sorted(offered)
    assert all(offered)
    assert len({voicing.frets for voicing in found.instead}) == len(offered) <= most
    assert {voicing.frets for voicing in found.instead} <= set(map(tuple, table.tolist()))
    beside = [differing(row, frets) for row in table.tolist() if is_beside(row, frets)]
    if most and any(beside):
        assert offered[0] <= min(filter(None, beside))


def test_far_away_is_better_than_nothing() -> None:
    """C/D on a ukulele has no voicing around the ninth fret but one that goes up to the 15th."""
    ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=350)
    found = diagnose(Chord.parse("C/D"), ukulele, (9, -1, 10, -1), Hand())
    assert found.instead[0].shape == "9-x-10-15"


@pytest.mark.parametrize(
    ("symbol", "frets", "nearest", "farthest"),
    [
        # Open strings do not hold the hand at the nut.
        ("Am7", (0, 10, 9, -1), 5, 14),
        ("Fmaj7", (8, -1, 0, 9), 4, 13),
        ("Am7", (5, 5, -1, 5), 1, 9),
        # A hand that presses nothing waits at the first fret.
        ("D", (-1, 0, -1, -1), 1, 5),
        ("D", (0, 0, 0, -1), 1, 5),
    ],
)
def test_what_is_offered_lies_around_the_hand(
    symbol: str, frets: tuple[int, ...], nearest: int, farthest: int
) -> None:
    """No fretted string is more than four frets away, and all such voicings are offered."""
    ukulele, chord = instrument("ukulele"), Chord.parse(symbol)
    found = diagnose(chord, ukulele, frets, Hand(), most=10_000)
    around = find_voicings(chord, ukulele, lowest_fret=nearest, highest_fret=farthest)
    offered = {voicing.frets for voicing in found.instead}
    assert offered == {tuple(row) for row in around.frets.tolist()} - {frets}


def test_of_what_is_as_near_the_first_to_teach_is_offered_first() -> None:
    """Fewest strings, then fewest frets, then the teaching order, however little it differs."""
    ukulele, chord, frets = instrument("ukulele"), Chord.parse("D"), (0, 4, 2, 3)
    table = find_voicings(chord, ukulele)
    rows = [tuple(row) for row in table.frets.tolist()]
    weights = dict(zip(rows, teaching_weight(table).tolist(), strict=True))
    keys = [
        (
            differing(voicing.frets, frets),
            sum(abs(here - there) for here, there in zip(voicing.frets, frets, strict=True)),
            weights[voicing.frets],
        )
        for voicing in diagnose(chord, ukulele, frets, Hand(), most=100).instead
    ]
    assert len({key[:2] for key in keys}) < len(keys)
    assert keys == sorted(keys)


def test_what_is_offered_is_plucked_by_as_many_fingers() -> None:
    """One string of an open C raised: five fingers pluck all five strings of the right one."""
    five = say("C", "x-3-2-0-2-0", stroke="pluck", pluck_fingers=5)
    assert five.instead[0].shape == "x-3-2-0-1-0"
    four = say("C", "x-3-2-0-2-0", stroke="pluck", pluck_fingers=4)
    assert {sum(fret >= 0 for fret in voicing.frets) for voicing in four.instead} <= {3, 4}


def test_nothing_is_offered_where_there_is_too_much_to_compare(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The faults are told all the same."""
    monkeypatch.setattr(diagnosis, "_MOST_COMPARED", 10)
    found = say("Cmaj7", "x-3-5-3-5-x")
    assert [fault.kind for fault in found.faults] == ["foreign", "missing"]
    assert found.instead == ()


def test_a_good_grip_has_no_fault() -> None:
    """Cmaj7 as drop 2 is right, and something else is offered all the same."""
    found = say("Cmaj7", "x-3-5-4-5-x")
    assert found.faults == ()
    assert len(found.instead) == 3


def test_a_foreign_tone_and_the_essential_one_it_displaces() -> None:
    """The B flat of C7 under Cmaj7: which string, which note, and the B that is missing."""
    found = say("Cmaj7", "x-3-5-3-5-x")
    assert [(fault.kind, fault.strings) for fault in found.faults] == [
        ("foreign", (3,)),
        ("missing", ()),
    ]
    assert "Bb3" in faults(found)["foreign"]
    assert "fret 3" in faults(found)["foreign"]
    assert "7 (B)" in faults(found)["missing"]
    assert found.instead[0].shape == "x-3-5-4-5-x"


@pytest.mark.parametrize(
    ("symbol", "shape", "hand", "conditions", "told"),
    [
        (
            "C",
            "x-3-2-0-0-2",
            Hand(),
            {},
            [
                ("foreign", "string 2 open sounds B3 (7), which is no tone of C", (2,)),
                ("foreign", "string 1 at fret 2 sounds Gb4 (b5), which is no tone of C", (1,)),
            ],
        ),
        (
            "C7alt",
            "x-3-2-3-x-x",
            Hand(),
            {},
            [
                ("missing", "the b5 (Gb) or the #5 (G#) is missing", ()),
                ("missing", "the b9 (Db) or the #9 (D#) is missing", ()),
            ],
        ),
        (
            "C/D",
            "2-3-2-0-1-0",
            Hand(),
            {},
            [
                ("foreign", "string 6 at fret 2 sounds Gb2 (b5), which is no tone of C/D", (6,)),
                ("bass", "the lowest note is Gb2, and C/D wants D", ()),
            ],
        ),
        (
            "C/D",
            "x-x-0-0-3-0",
            Hand(),
            {},
            [
                ("foreign", "string 2 at fret 3 sounds D4 (9), which is no tone of C/D", (2,)),
                ("missing", "the 1 (C) is missing", ()),
            ],
        ),
        # The D flat of C/Db on the second string: named as the symbol names it.
        (
            "C/Db",
            "x-4-2-0-2-0",
            Hand(),
            {},
            [
                ("foreign", "string 2 at fret 2 sounds Db4 (b9), which is no tone of C/Db", (2,)),
                ("missing", "the 1 (C) is missing", ()),
            ],
        ),
        # One C for the three tones of the chord.
        (
            "C",
            "x-3-x-x-x-x",
            Hand(),
            {},
            [
                ("missing", "the 3 (E) is missing", ()),
                ("notes", "1 string sounds of at least 3", ()),
                ("tones", "1 different tone sounds of at least 3", ()),
            ],
        ),
        (
            "C",
            "x-3-2-x-x-x",
            Hand(),
            {},
            [
                ("notes", "2 strings sound of at least 3", ()),
                ("tones", "2 different tones sound of at least 3", ()),
            ],
        ),
        # C5 has two tones, and C5/D three.
        (
            "C5",
            "x-3-x-x-1-x",
            Hand(),
            {},
            [
                ("missing", "the 5 (G) is missing", ()),
                ("tones", "1 different tone sounds of at least 2", ()),
            ],
        ),
        (
            "C5/D",
            "x-x-0-0-x-x",
            Hand(),
            {"min_notes": 2},
            [
                ("missing", "the 1 (C) is missing", ()),
                ("tones", "2 different tones sound of at least 3", ()),
            ],
        ),
        (
            "C",
            "x-3-2-x-x-x",
            Hand(),
            {"min_notes": 1},
            [("tones", "2 different tones sound of at least 3", ())],
        ),
        (
            "C",
            "x-3-2-x-x-x",
            Hand(),
            {"min_tones": 1},
            [("notes", "2 strings sound of at least 3", ())],
        ),
        ("C", "x-x-x-x-x-x", Hand(), {}, [("notes", "no string sounds", ())]),
        ("G", "x-x-x-x-x-x", Hand(), {"stroke": "strum"}, [("notes", "no string sounds", ())]),
        (
            "Cmaj7",
            "x-3-5-x-5-7",
            Hand(reach_mm=90),
            {},
            [("reach", "the reach is 112 mm of 90: 22.4 mm too far", ())],
        ),
        (
            "Cmaj7",
            "x-3-5-4-5-x",
            Hand(fingers=3),
            {},
            [("fingers", "it takes 4 fingers of 3", ())],
        ),
        # All fingers down, without a spread too wide.
        ("Cmaj7", "x-3-5-4-5-x", Hand(), {}, []),
        (
            "C",
            "x-3-2-0-1-0",
            Hand(),
            {"stroke": "pluck"},
            [("stroke", "5 strings sound, and 4 fingers pluck", ())],
        ),
        ("C", "x-3-2-0-1-0", Hand(), {"stroke": "strum"}, []),
        ("C", "x-3-2-0-1-x", Hand(), {"stroke": "pluck"}, []),
        ("Em", "0-2-x-0-0-0", Hand(), {"stroke": "strum"}, []),
        ("Em", "0-x-2-0-0-0", Hand(), {"stroke": "strum"}, []),
        # A finger at the first fret damps, too.
        ("Dm7", "x-x-0-x-1-1", Hand(), {"stroke": "strum"}, []),
        (
            "Em",
            "0-x-x-0-0-0",
            Hand(),
            {"stroke": "strum"},
            [
                ("stroke", "nothing damps string 5 under a strum", (5,)),
                ("stroke", "nothing damps string 4 under a strum", (4,)),
            ],
        ),
        (
            "G",
            "3-x-0-x-0-3",
            Hand(),
            {"stroke": "strum"},
            [("stroke", "nothing damps string 3 under a strum", (3,))],
        ),
    ],
)
def test_faults_are_told_in_these_words(
    symbol: str,
    shape: str,
    hand: Hand,
    conditions: dict[str, Any],
    told: list[tuple[str, str, tuple[int, ...]]],
) -> None:
    """Each fault by its kind, its whole sentence, and the strings that it concerns."""
    found = say(symbol, shape, hand, **conditions)
    assert [(fault.kind, fault.sentence, fault.strings) for fault in found.faults] == told


def test_all_fingers_down_spread_too_wide() -> None:
    """From fret 1 to fret 4 of the guitar: which strings, and by how much (computed)."""
    (fault,) = (f for f in say("C", "x-4-x-4-1-4").faults if f.kind == "spread")
    apart = apart_mm(1, 4)
    assert fault.sentence == (
        f"with all 4 fingers down, frets 1 and 4 lie {apart:.0f} mm apart, "
        f"{apart - 115 * 2 / 3:.1f} mm more than two thirds of the reach"
    )
    assert fault.strings == (2, 5)


def test_each_foreign_string_is_named() -> None:
    """Two wrong strings are two faults, an open one among them."""
    found = say("C", "x-3-2-0-0-2")
    assert [fault.strings for fault in found.faults if fault.kind == "foreign"] == [(2,), (1,)]
    assert "open" in found.faults[0].sentence
    assert "B3" in found.faults[0].sentence
    assert "fret 2" in found.faults[1].sentence


def test_a_choice_of_essential_tones_is_told_as_a_choice() -> None:
    """7alt wants one ninth of two and one fifth of two."""
    found = say("C7alt", "x-3-2-3-x-x")
    missing = [fault.sentence for fault in found.faults if fault.kind == "missing"]
    assert len(missing) == 2
    assert "b5" in missing[0]
    assert "#5" in missing[0]
    assert "b9" in missing[1]
    assert "#9" in missing[1]


def test_a_wrong_bass_is_named_with_the_right_one() -> None:
    """C/E with its C below."""
    sentence = faults(say("C/E", "x-3-2-0-1-0"))["bass"]
    assert "C3" in sentence
    assert "wants E" in sentence


def test_a_foreign_bass_may_sound_below_and_nowhere_else() -> None:
    """The D of C/D: right on the open fourth string, foreign on the second."""
    assert say("C/D", "x-x-0-0-1-0").faults == ()
    assert say("C/D", "x-x-0-0-3-0").faults[0].kind == "foreign"


@pytest.mark.parametrize(
    ("shape", "conditions", "kind", "heard", "least"),
    [
        ("x-3-2-x-x-x", {}, "notes", 2, 3),
        ("x-3-2-0-x-x", {"min_notes": 5}, "notes", 3, 5),
        ("x-3-x-x-1-8", {}, "tones", 1, 3),
        ("x-3-2-0-1-0", {"min_tones": 4}, "tones", 3, 4),
    ],
)
def test_too_few_notes_or_tones_are_counted(
    shape: str, conditions: dict[str, Any], kind: str, heard: int, least: int
) -> None:
    """The sentence has both numbers: what sounds, and what is wanted at least."""
    sentence = faults(say("C", shape, Hand(reach_mm=300.0), **conditions))[kind]
    assert sentence.split()[0] == str(heard)
    assert sentence.split()[-1] == str(least)


def test_silence_is_a_fault() -> None:
    """A shape on which nothing sounds is no voicing of anything."""
    assert [fault.kind for fault in say("C", "x-x-x-x-x-x").faults] == ["notes"]


def test_a_reach_too_far_is_told_in_millimetres() -> None:
    """A root-position drop 2 and 4 asks for 112 mm; a hand of 90 lacks 22."""
    reach = apart_mm(3, 7)
    sentence = faults(say("Cmaj7", "x-3-5-x-5-7", Hand(reach_mm=90)))["reach"]
    assert f"{reach:.0f} mm of 90" in sentence
    assert f"{reach - 90:.1f} mm too far" in sentence
    assert round(reach) == 112
    assert say("Cmaj7", "x-3-5-x-5-7").faults == ()


@pytest.mark.parametrize("reach", [apart_mm(1, 4), 60.0, 97.5])
def test_the_reach_counts_from_the_first_fret_and_is_allowed_itself(reach: float) -> None:
    """From fret 1 to fret 4 of the guitar are 97.2 mm: not too far for a hand of as many."""
    found = faults(say("Cm", "x-3-1-0-4-x", Hand(reach_mm=reach)))
    assert ("reach" in found) == (reach == 60.0)


def test_the_spread_itself_is_allowed() -> None:
    """All fingers down on frets 1 and 4: neighbouring presses at two thirds of the reach."""
    edge = GUITAR.place_mm(1, 4) - GUITAR.place_mm(4, 1)
    assert "spread" not in faults(say("C", "x-4-x-4-1-4", Hand(reach_mm=edge * 1.5)))
    assert "spread" in faults(say("C", "x-4-x-4-1-4", Hand(reach_mm=edge * 1.5 - 0.001)))


def test_fingers_are_counted() -> None:
    """Four presses for three fingers."""
    found = say("Cmaj7", "x-3-5-4-5-x", Hand(fingers=3))
    assert [fault.kind for fault in found.faults] == ["fingers"]
    assert "4 fingers of 3" in faults(found)["fingers"]


def test_a_spread_too_wide_with_all_fingers_down_is_measured() -> None:
    """From fret 1 to fret 4 with all four fingers: 97 mm, and two thirds of 115 are 77."""
    found = say("C", "x-4-x-4-1-4")
    apart = apart_mm(1, 4)
    (fault,) = (fault for fault in found.faults if fault.kind == "spread")
    assert "frets 1 and 4" in fault.sentence
    assert f"{apart:.0f} mm apart" in fault.sentence
    assert f"{apart - 115 * 2 / 3:.1f} mm more" in fault.sentence
    assert fault.strings[0] == 2
    assert "reach" not in faults(found)
    assert "spread" not in faults(say("C", "x-4-x-4-1-4", Hand(fingers=5)))


def test_too_many_strings_for_the_plucking_fingers() -> None:
    """Five strings under four fingers, and under five."""
    sentence = faults(say("C", "x-3-2-0-1-0", stroke="pluck"))["stroke"]
    assert sentence.startswith("5 strings")
    assert "4 fingers" in sentence
    assert say("C", "x-3-2-0-1-0", stroke="pluck", pluck_fingers=5).faults == ()


def test_a_mute_that_nothing_damps_under_a_strum() -> None:
    """Between two open strings no finger damps the fifth; beside a fretted one it does."""
    found = say("Em", "0-x-x-0-0-0", stroke="strum")
    assert [fault.strings for fault in found.faults if fault.kind == "stroke"] == [(5,), (4,)]
    assert "string 5" in found.faults[-2].sentence
    assert say("G", "3-x-0-0-0-3", stroke="strum").faults == ()


@pytest.mark.parametrize(
    ("frets", "expected"),
    [
        ((-1, 3, 5, 4, 5), "6 of them, one a string"),
        ((-1, 3, 5, 4, 5, -1, -1), "6 of them, one a string"),
        ((-1, 3, 5, 4, 5, 23), "-1, 0 or 1 to 22 on string 1"),
        ((-2, 3, 5, 4, 5, -1), "-1, 0 or 1 to 22 on string 6"),
    ],
)
def test_a_shape_that_the_instrument_has_not_is_refused(
    frets: tuple[int, ...], expected: str
) -> None:
    """Strings too few or too many, a fret beyond the neck, and a number that means nothing."""
    with pytest.raises(ConditionError) as caught:
        diagnose(Chord.parse("Cmaj7"), GUITAR, frets, Hand())
    assert caught.value.name == "frets"
    assert caught.value.value == frets
    assert caught.value.expected == expected
    last = diagnose(Chord.parse("D"), GUITAR, (-1, -1, -1, -1, -1, 22), Hand())
    assert "foreign" not in faults(last)


def test_a_late_string_has_no_fret_before_its_own() -> None:
    """The fifth string of the banjo begins at its fifth fret: its first press is 6."""
    banjo, chord = instrument("banjo"), Chord.parse("G")
    with pytest.raises(ConditionError, match="6 to"):
        diagnose(chord, banjo, (5, 0, 0, 0, 0), Hand())
    assert diagnose(chord, banjo, (0, 0, 0, 0, 0), Hand()).faults == ()


def test_where_nothing_is_playable_nothing_is_offered() -> None:
    """Five essential tones on four strings have no voicing to offer instead."""
    ukulele, chord = instrument("ukulele"), Chord.parse("C13b9#11")
    found = diagnose(chord, ukulele, (0, 0, 0, 3), Hand())
    assert not len(find_voicings(chord, ukulele))
    assert found.faults
    assert found.instead == ()
