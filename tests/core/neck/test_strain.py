"""The strain: its parts, its weights and how it grows."""

import math
import pickle
from itertools import pairwise
from typing import Any

import attrs
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, Hand, find_voicings
from gripwright.errors import ConditionError
from gripwright.neck.fingered import finger_rows
from gripwright.neck.fingering import fingering_of
from gripwright.neck.presses import Press, presses_of
from gripwright.neck.strain import USUAL_WEIGHTS, Strain, StrainWeights, muted_inside, strain_of
from tests.core.neck.reference import frets_of, instrument

GUITAR = instrument("guitar")
CLASSES_MM = (0, 70, 90, 115, 130)
NO_WEIGHTS = StrainWeights(
    reach=0,
    stretch=(0,) * 4,
    squeeze=0,
    finger=(0,) * 5,
    extra_finger=0,
    barre=(0,) * 5,
    clearing=0,
    inner_mute=0,
)

# The natural gaps are lengths and no weights.
WEIGHTS = [name for name in attrs.fields_dict(StrainWeights) if name != "natural_gap_mm"]

fretted_shapes = st.tuples(*[st.sampled_from([-1, 3, 4, 5, 6])] * 6).filter(
    lambda frets: len(presses_of(frets)) <= 4
)
"""Shapes without open strings within four frets, for four fingers."""

weights = st.builds(
    StrainWeights,
    reach=st.floats(0.5, 2),
    squeeze=st.floats(0, 0.5),
    extra_finger=st.floats(0, 20),
    clearing=st.floats(0, 20),
    inner_mute=st.floats(0, 20),
    barre=st.tuples(*[st.floats(0, 20)] * 5),
)


def test_medians_rise_with_the_classes_of_reach() -> None:
    """Easy to 70 mm, normal to 90, a stretch to 115, hard to 130: our own classes of reach."""
    table = find_voicings(Chord.parse("Cmaj7"), GUITAR, Hand(reach_mm=130))
    strain = finger_rows(table.pairs.columns(), GUITAR).strain
    reach = table.columns["reach_mm"]
    medians = [
        float(np.median(strain[(reach <= high) & ((reach > low) | (low == 0))]))
        for low, high in pairwise(CLASSES_MM)
    ]
    assert medians == sorted(medians)
    # Farther apart than a finger weighs, so that the order is no accident.
    assert all(high - low > 20 for low, high in pairwise(medians))


def test_the_total_is_the_sum_of_the_parts() -> None:
    """Nothing is in the total that no part shows."""
    strain = Strain(reach=1, gaps=2, barres=4, fingers=8, mutes=16)
    assert strain.total == 31
    assert strain.chosen == 14


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"reach": 2}, 2 * (GUITAR.place_mm(0, 5) - GUITAR.place_mm(0, 3))),
        ({"finger": (1, 2, 4, 8, 16)}, 1 + 4 + 8),
        ({"barre": (1, 2, 5, 9, 9)}, 5 * 3),
        ({"inner_mute": 5}, 5),
        ({"clearing": 7}, 7),
        ({"extra_finger": 3}, 6),
        # Fingers 1 and 3 lie apart as frets 3 and 4 do, fingers 3 and 4 not at all.
        ({"squeeze": 2}, 2 * (32 + 30 - (GUITAR.place_mm(0, 4) - GUITAR.place_mm(0, 3)) + 26)),
    ],
)
def test_each_weight_weighs_its_own_part(changes: dict[str, Any], expected: float) -> None:
    """One weight alone, on fingers 1, 3 and 4 of a shape that has some of everything."""
    held: tuple[tuple[int, Press], ...]
    held = ((1, Press(3, (0,))), (3, Press(4, (2, 4))), (4, Press(4, (5,))))
    frets = (3, -1, 4, 5, 4, 4)
    alone = attrs.evolve(NO_WEIGHTS, **changes)
    if "clearing" in changes:
        frets = (3, -1, 4, 5, 4, 0)
        held = held[:2]
    assert strain_of(frets, GUITAR, held, 1, alone).total == pytest.approx(expected)


def test_the_strings_of_all_barres_count() -> None:
    """The index lies over six strings, the ring finger over three."""
    held = ((1, Press(3, (0, 4, 5))), (3, Press(5, (1, 2, 3))))
    barred = attrs.evolve(NO_WEIGHTS, barre=(1, 2, 5, 9, 9))
    assert strain_of((3, 5, 5, 5, 3, 3), GUITAR, held, 2, barred).total == 1 * 6 + 5 * 3


@pytest.mark.parametrize(
    ("low", "high", "gap_mm", "expected"),
    [
        (1, 2, 32, 0),
        (1, 2, 42, 10),
        (3, 4, 36, 15),
        (1, 3, 62, 0),
        (2, 4, 66, 15),
        (1, 4, 98, 15),
        (1, 2, 12, 3),
        (1, 2, -8, 6),
    ],
)
def test_gaps_are_held_against_the_natural_ones(
    low: int, high: int, gap_mm: float, expected: float
) -> None:
    """Natural gaps add up between fingers that are no neighbours; the weakest pair holds."""
    assert USUAL_WEIGHTS.gap(low, high, float(gap_mm)) == pytest.approx(expected)
    column = USUAL_WEIGHTS.gap(low, high, np.array([float(gap_mm)]))
    assert column.tolist() == [USUAL_WEIGHTS.gap(low, high, float(gap_mm))]


def test_the_ring_and_the_little_finger_are_the_weakest_pair() -> None:
    """Common practice."""
    beyond = [USUAL_WEIGHTS.gap(low, low + 1, 60.0) for low in (1, 2, 3)]
    assert max(beyond) == beyond[2]


def test_another_finger_bars_harder_than_the_index() -> None:
    """Common practice; the ring finger comes next."""
    index, middle, ring, little = (USUAL_WEIGHTS.lying(finger, 3.0, 0.0) for finger in (1, 2, 3, 4))
    assert index < ring < min(middle, little)
    assert fingering_of((-1, -1, 5, 0, -1, -1), GUITAR).strain.barres == 0


@given(fretted_shapes, st.floats(1, 1.5))
def test_a_longer_scale_strains_no_less(frets: tuple[int, ...], factor: float) -> None:
    """The same frets lie farther apart, in every gap."""
    longer = attrs.evolve(
        GUITAR,
        strings=tuple(
            attrs.evolve(string, scale_mm=string.scale_mm * factor) for string in GUITAR.strings
        ),
    )
    assert (
        fingering_of(frets, longer).strain.total >= fingering_of(frets, GUITAR).strain.total - 1e-9
    )


@given(fretted_shapes, st.integers(1, 12))
def test_up_the_neck_a_shape_strains_no_more(frets: tuple[int, ...], up: int) -> None:
    """Frets lie closer up the neck."""
    higher = tuple(fret + up if fret > 0 else fret for fret in frets)
    assert (
        fingering_of(higher, GUITAR).strain.total <= fingering_of(frets, GUITAR).strain.total + 1e-9
    )


@given(fretted_shapes, weights, st.floats(0, 30), st.sampled_from(WEIGHTS))
def test_a_heavier_weight_strains_no_less(
    frets: tuple[int, ...], light: StrainWeights, more: float, name: str
) -> None:
    """Whatever it weighs."""
    value = getattr(light, name)
    heavier: Any = tuple(v + more for v in value) if isinstance(value, tuple) else value + more
    heavy = attrs.evolve(light, **{name: heavier})
    least = fingering_of(frets, GUITAR, weights=light).strain.total
    assert fingering_of(frets, GUITAR, weights=heavy).strain.total >= least - 1e-9


@pytest.mark.parametrize(
    ("shape", "inside"),
    [
        ("x-3-5-x-5-7", (3,)),
        ("8-x-9-x-8-12", (1, 3)),
        ("x-x-x-x-x-x", ()),
        ("x-3-2-0-1-x", ()),
        ("0-x-2-2-x-0", (1, 4)),
    ],
)
def test_muted_strings_inside(shape: str, inside: tuple[int, ...]) -> None:
    """Only those between sounding strings, each weighed once."""
    assert muted_inside(frets_of(shape)) == inside
    mutes = fingering_of(frets_of(shape), GUITAR).strain.mutes
    assert mutes == USUAL_WEIGHTS.inner_mute * len(inside)


@pytest.mark.parametrize(
    ("shape", "lowest", "highest"),
    [("x-3-2-0-1-0", 1, 3), ("x-x-0-2-3-2", 2, 3), ("x-0-0-0-0-x", 0, 0), ("x-x-1-x-x-5", 1, 5)],
)
def test_reach_is_from_the_nearest_to_the_farthest_press(
    shape: str, lowest: int, highest: int
) -> None:
    """Open strings need no reach: fret n of 648 mm lies at 648 (1 - 2^(-n/12)) mm."""
    way = 648 * (2 ** (-lowest / 12) - 2 ** (-highest / 12))
    assert fingering_of(frets_of(shape), GUITAR).strain.reach == pytest.approx(way)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"reach": -1}, "reach cannot be -1.0: expected a number from 0 up"),
        ({"squeeze": math.nan}, "squeeze cannot be nan: expected a number from 0 up"),
        ({"inner_mute": math.inf}, "inner_mute cannot be inf: expected a number from 0 up"),
        ({"barre": (1, 2, 3)}, "barre cannot be (1.0, 2.0, 3.0): expected 5 numbers"),
        ({"stretch": (1,)}, "stretch cannot be (1.0,): expected 4 numbers"),
        ({"natural_gap_mm": (1, 2, 3, -4)}, "natural_gap_mm cannot be -4.0: expected a number"),
        ({"finger": (1, 2, 3, 4, 5, 6)}, "finger cannot be (1.0, 2.0, 3.0, 4.0, 5.0, 6.0): exp"),
    ],
)
def test_weights_that_weigh_nothing_known_are_refused(changes: dict[str, Any], words: str) -> None:
    """Below nothing, endless, or not one a finger."""
    with pytest.raises(ConditionError) as caught:
        attrs.evolve(USUAL_WEIGHTS, **changes)
    assert str(caught.value).startswith(words)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)
