"""The teaching order: what a teacher would show first, and what not.

Outside references: a table of grips that any teacher shows among the first, and the trade's
list of what is shown late; both common practice.
"""

from collections.abc import Callable
from itertools import combinations

import attrs
import numpy as np
import pytest

from gripwright import (
    Chord,
    Instrument,
    Voicing,
    VoicingTable,
    find_voicings,
    load_registry,
    ranking,
)
from gripwright.neck import teaching
from gripwright.neck.teaching import WEIGHTS, teaching_weight
from tests.core.neck.reference import frets_of, instrument, rows

GUITAR = instrument("guitar")
FIRST_GRIPS = rows("first-grips.tsv")
FIRST_SCREENS = ("C", "G7", "Dm7", "Cmaj7", "C13")
G2 = 43


def degrees_above(voicing: Voicing, degree: str) -> list[int]:
    """Return the pitches at which a degree sounds."""
    place = {str(own): own.semitones % 12 for own in voicing.chord.degrees}.get(degree)
    root = voicing.chord.root.pitch_class
    return [midi for midi in voicing.midi if (midi - root) % 12 == place]


def minor_ninths(voicing: Voicing) -> int:
    """Count pairs of strings a minor ninth apart whose lower one is not the root."""
    root = voicing.chord.root.pitch_class
    return sum(
        abs(one - other) == 13 and min(one, other) % 12 != root
        for one, other in combinations(voicing.midi, 2)
    )


def low_thirds(voicing: Voicing) -> int:
    """Count pairs no wider than a third of which the lower lies below G2."""
    return sum(
        0 < abs(one - other) <= 4 and min(one, other) < G2
        for one, other in combinations(voicing.midi, 2)
    )


def fifths_beside_b13(voicing: Voicing) -> int:
    """Tell whether the perfect fifth sounds beside the b13, as a count of 0 or 1."""
    return bool(degrees_above(voicing, "5") and degrees_above(voicing, "b13"))


def doubled_thirds(voicing: Voicing) -> int:
    """Tell whether the major third of a dominant sounds twice, as a count of 0 or 1."""
    dominant = {"3", "b7"} <= set(voicing.chord.degrees)
    return dominant and len(degrees_above(voicing, "3")) > 1


LATE: dict[str, Callable[[Voicing], int]] = {
    "minor_ninth": minor_ninths,
    "low_third": low_thirds,
    "fifth_beside_b13": fifths_beside_b13,
    "dominant_third_doubled": doubled_thirds,
}


def is_triad(voicing: Voicing) -> bool:
    """Tell whether the chord has neither a seventh nor a sixth."""
    return not {"7", "b7", "bb7", "6"} & set(voicing.chord.degrees)


def unisons(voicing: Voicing) -> int:
    """Count pairs of strings at one pitch."""
    return sum(one == other for one, other in combinations(voicing.midi, 2))


def fretted(voicing: Voicing) -> list[int]:
    """Return the fretted frets in rising order, 0 where nothing is fretted."""
    return sorted(fret for fret in voicing.frets if fret > 0) or [0]


def mutes_below(voicing: Voicing) -> int:
    """Count the muted strings on the bass side of the first that sounds."""
    return next(string for string, fret in enumerate(voicing.frets) if fret >= 0)


def in_open_position(voicing: Voicing) -> bool:
    """Tell whether four strings or more sound side by side, some open, none beyond fret 4."""
    sounding = [string for string, fret in enumerate(voicing.frets) if fret >= 0]
    side_by_side = sounding[-1] - sounding[0] + 1 == len(sounding)
    return side_by_side and len(sounding) >= 4 and 0 in voicing.frets and max(voicing.frets) <= 4


def in_a_first_family(voicing: Voicing) -> bool:
    """Tell whether a chord of four tones lies in one of the families that are taught first."""
    return not is_triad(voicing) and bool({"drop-2", "drop-3", "shell"} & set(voicing.families))


def spare_ninth(voicing: Voicing) -> set[str]:
    """Return the ninth of a chord that goes on to an eleventh or a thirteenth."""
    degrees = voicing.chord.degrees
    goes_on = any(degree.number in {11, 13} for degree in degrees)
    return {str(degree) for degree in degrees if degree.number == 9 and goes_on}


def left_out(voicing: Voicing) -> list[str]:
    """Return the degrees above the root that do not sound."""
    return [str(degree) for degree in voicing.left_out if degree != "1"]


def doubles(voicing: Voicing) -> int:
    """Count the strings beyond the different tones."""
    return len(voicing.midi) - len({midi % 12 for midi in voicing.midi})


REASONS: dict[str, Callable[[Voicing], float]] = LATE | {
    "reach_mm": lambda v: v.reach_mm,
    "press": lambda v: v.presses,
    "inner_mute": lambda v: v.frets.count(-1) - mutes_below(v) - mutes_below(turned(v)),
    "fret": lambda v: fretted(v)[0],
    "fret_beyond_fingers": lambda v: max(fretted(v)[-1] - fretted(v)[0] + 1 - 4, 0),
    "past_the_body": lambda v: fretted(v)[-1] > 14,
    "open_far_up": lambda v: 0 in v.frets and fretted(v)[-1] > 4,
    "open_position": in_open_position,
    "string_short_of_usual": lambda v: max((5 if is_triad(v) else 4) - len(v.midi), 0),
    "string_beyond_usual": lambda v: 0 if is_triad(v) else max(len(v.midi) - 4, 0),
    "high_string_lowest": lambda v: max(mutes_below(v) - 1, 0),
    "named_family": in_a_first_family,
    "unison": unisons,
    "root_not_lowest": lambda v: v.chord.bass is None and v.bass_degree != "1",
    "no_root": lambda v: "1" not in v.degrees,
    "tone_left_out": lambda v: len(set(left_out(v)) - {"5"} - spare_ninth(v)),
    "fifth_left_out": lambda v: "5" in left_out(v),
    "ninth_left_out": lambda v: len(set(left_out(v)) & spare_ninth(v)),
    "tone_doubled": lambda v: max(doubles(v) - (3 if is_triad(v) else 1), 0),
}
"""How often each reason applies to a voicing."""


def turned(voicing: Voicing) -> Voicing:
    """Return a voicing with its strings in the other order, whatever that sounds."""
    return attrs.evolve(voicing, frets=voicing.frets[::-1])


def every(symbol: str) -> VoicingTable:
    """Return all voicings on the standard guitar under the usual hand."""
    return find_voicings(Chord.parse(symbol), GUITAR)


def pair(symbol: str, earlier: str, later: str) -> tuple[float, float]:
    """Return the weights of two shapes."""
    table = every(symbol)
    at = table.frets.tolist()
    two = table[np.array([at.index(list(frets_of(shape))) for shape in (earlier, later)])]
    first, second = teaching_weight(two).tolist()
    return first, second


@pytest.mark.parametrize("row", FIRST_GRIPS, ids=lambda row: f"{row['chord']} {row['frets']}")
def test_first_grips_stand_in_the_first_twelve(row: dict[str, str]) -> None:
    """What any teacher shows first comes first, on the registry's guitar under the usual hand."""
    guitar = load_registry().instruments["guitar"]
    table = find_voicings(Chord.parse(row["chord"]), guitar).order_by(ranking.teaching)
    assert row["frets"] in [voicing.shape for voicing in table[:12]]


@pytest.mark.parametrize(
    ("symbol", "earlier", "later"),
    [
        # The 7 below the root a minor ninth higher: B2 and C4.
        ("Cmaj7", "x-3-5-4-5-x", "x-2-2-0-1-x"),
        ("Cmaj7", "x-3-2-0-0-0", "x-2-2-0-1-0"),
        # The natural fifth rubs with the b13.
        ("G7b13", "3-x-3-4-4-x", "3-5-3-4-4-x"),
        # Thirds that lie low: E2 with G2, F2 with A2.
        ("C", "x-3-2-0-1-0", "0-3-2-0-1-0"),
        ("F", "1-3-3-2-1-1", "1-0-3-2-1-1"),
        # The third of a dominant twice: B2 and B3.
        ("G7", "3-5-3-4-3-x", "3-2-3-4-3-x"),
        ("G7", "3-2-0-0-0-1", "3-2-3-4-3-x"),
    ],
)
def test_a_teacher_shows_one_before_the_other(symbol: str, earlier: str, later: str) -> None:
    """Of two voicings that a hand holds about as well, the clearer one comes first."""
    first, second = pair(symbol, earlier, later)
    assert first < second


@pytest.mark.parametrize("name", LATE)
@pytest.mark.parametrize("symbol", ["G7b13", "Cmaj7", "E7b9", "F", "C13", "G7#9b13"])
def test_each_reason_counts_what_it_says(
    name: str, symbol: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a reason the weight of a row falls by its weight for each time it applies."""
    table = every(symbol)[::7]
    whole = teaching_weight(table)
    monkeypatch.setitem(teaching.WEIGHTS, name, 0.0)
    fallen = whole - teaching_weight(table)
    monkeypatch.undo()
    counts = [LATE[name](voicing) for voicing in table]
    assert fallen.tolist() == pytest.approx([WEIGHTS[name] * count for count in counts])


def assert_summed(table: VoicingTable) -> None:
    """Hold the weight of each row against the sum of its reasons."""
    expected = [
        sum(WEIGHTS[name] * count(voicing) for name, count in REASONS.items()) for voicing in table
    ]
    assert teaching_weight(table).tolist() == pytest.approx(expected)


@pytest.mark.parametrize(
    "symbol",
    [
        *("C", "C/E", "Cadd9", "Am6", "E7", "Cmaj7", "G7b13", "C7alt", "C11", "C13", "Cm13"),
        # Without the root in the symbol: what does not sound is the fifth, or nothing.
        *("C11no1", "C7no1no5"),
    ],
)
def test_a_weight_is_the_sum_of_all_reasons(symbol: str) -> None:
    """Each as often as it applies: near the nut, by the body and far up, in few strings or many."""
    assert REASONS.keys() == WEIGHTS.keys()
    table = find_voicings(Chord.parse(symbol), GUITAR, min_notes=2)
    near_the_nut = table.where(highest_fret=range(6), open_strings=lambda count: count > 0)
    by_the_body = table.where(highest_fret={14, 15})
    for rows_of_some_place in (table, near_the_nut, by_the_body):
        assert_summed(rows_of_some_place[:: max(1, len(rows_of_some_place) // 40)])


def test_a_string_that_does_not_sound_is_in_no_interval() -> None:
    """On a bass so low that its lowest string, C#0, has number 13: no minor ninth above nothing."""
    bass = Instrument.from_text("C#0 F#0 B0 E1 A1 D2", frets=9)
    table = find_voicings(Chord.parse("F#7"), bass)
    assert (table.columns["bass_midi"] == 13).any()
    assert_summed(table[:: max(1, len(table) // 100)])


def test_low_seconds_are_low_thirds_and_unisons_are_not() -> None:
    """On strings strung so low and near that intervals of 0 and 1 semitones lie below G2."""
    low = Instrument.from_text("E2 F2 E2 C3", frets=9)
    table = find_voicings(Chord.parse("Fmaj7"), low)
    pairs = {pair for voicing in table for pair in combinations(voicing.midi, 2)}
    assert {0, 1, 4} <= {abs(one - other) for one, other in pairs if min(one, other) < G2}
    assert_summed(table)


@pytest.mark.parametrize("name", LATE)
def test_the_reasons_make_a_voicing_later(name: str) -> None:
    """Each weighs more than a few millimetres of reach, and each is met by some voicing."""
    assert WEIGHTS[name] > 10 * WEIGHTS["reach_mm"]
    met = [LATE[name](voicing) for symbol in ("G7b13", "Cmaj7", "F") for voicing in every(symbol)]
    assert any(met)


def test_the_flat_ninth_of_a_dominant_is_no_fault() -> None:
    """The minor ninth from root to b9 is the chord's own sound."""
    table = every("E7b9")
    own = [
        row
        for row, voicing in enumerate(table)
        if not minor_ninths(voicing)
        and any(
            (high - low) == 13 and low % 12 == 4
            for low, high in combinations(sorted(voicing.midi), 2)
        )
    ]
    assert own
    weights = teaching_weight(table)
    shifted = {name: 0.0 if name == "minor_ninth" else value for name, value in WEIGHTS.items()}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(teaching, "WEIGHTS", shifted)
        assert teaching_weight(table)[own].tolist() == weights[own].tolist()


@pytest.mark.parametrize(
    "symbol", [*FIRST_SCREENS, "F", "Am", "G7b13", "E7b9", "Bm7b5", "Fmaj7", "D7", "A7", "E7"]
)
def test_the_first_screen_is_free_of_what_a_teacher_would_not_show(symbol: str) -> None:
    """Of the first twelve none has a minor ninth, a low third or a fifth beside b13."""
    for voicing in every(symbol).order_by(ranking.teaching)[:12]:
        assert not minor_ninths(voicing), voicing.shape
        assert not low_thirds(voicing), voicing.shape
        assert not fifths_beside_b13(voicing), voicing.shape


@pytest.mark.parametrize("symbol", FIRST_SCREENS)
def test_the_first_screen_has_the_root_below(symbol: str) -> None:
    """Root position comes first where the symbol asks for no other bass."""
    first = every(symbol).order_by(ranking.teaching)[:5]
    assert [voicing.inversion for voicing in first] == ["root"] * 5


def test_a_slash_bass_is_not_held_against_a_voicing() -> None:
    """C/E is shown with its E below as C with its C."""
    best = every("C/E").order_by(ranking.teaching)[0]
    assert best.bass_degree == "3"
    assert best.reach_mm <= 90
