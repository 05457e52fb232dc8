"""The teaching order: what a teacher would show first, and what not.

Outside references: a table of grips that any teacher shows among the first, and the trade's
list of what is shown late; both common practice.
"""

from collections.abc import Callable
from itertools import combinations

import numpy as np
import pytest

from gripwright import Chord, Voicing, VoicingTable, find_voicings, load_registry, ranking
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
