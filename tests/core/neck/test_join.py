"""Joining two halves of a neck: memory stays bounded, and no row is taken for another."""

from itertools import pairwise
from typing import Any

import pytest

from gripwright import Chord, Hand, Instrument, Recipe, find_voicings
from gripwright.neck import join
from gripwright.neck.conditions import Conditions
from gripwright.neck.join import joined
from gripwright.neck.tones import tones_for
from tests.core.neck.enumerator import Limits, neck_of, tones_of, voicings

FOUR = Instrument.from_text("D3 G3 B3 E4", frets=6, scale_mm=648.0)


@pytest.mark.parametrize("at_once", [1, 2, 3, 5, 8, 13, 21, 34])
def test_portions_are_full_and_no_larger(at_once: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only a row of the left half with more partners goes beyond; none that fits is put off."""
    chord = Chord.parse("G7")
    neck = find_voicings(chord, FOUR).pairs.neck
    fits = tones_for(chord, (Recipe(()),), Conditions()).fits
    whole = [*joined(neck, Hand(), fits)]
    monkeypatch.setattr(join, "_PAIRS_AT_ONCE", at_once)
    portions = [portion for portion in joined(neck, Hand(), fits) if len(portion)]
    assert len(whole) == 1
    assert sum(map(len, portions)) == len(whole[0])
    for portion in portions:
        assert len(portion) <= at_once or len(set(portion.lefts)) == 1
    for portion, following in pairwise(portions):
        partners = following.lefts.tolist().count(following.lefts[0])
        assert len(portion) + partners > at_once


@pytest.mark.parametrize(
    ("symbol", "strings", "frets"),
    [
        # Far more places than sets of tones.
        ("C", "G3 E4", 15),
        # The root three times beside the flat ninth with the third, in one half.
        ("E7b9", "B2 D3 E4 E4 E3", 4),
    ],
)
def test_rows_that_differ_join_on_their_own(symbol: str, strings: str, frets: int) -> None:
    """Places, tones and numbers of notes of a half are told apart, however many there are."""
    own = Instrument.from_text(strings, frets=frets, scale_mm=648.0)
    few: dict[str, Any] = {"min_notes": 1, "min_tones": 1}
    tones = tones_of(Chord.parse(symbol))
    expected = voicings(tones, neck_of(own), limits=Limits(**few))
    found = find_voicings(Chord.parse(symbol), own, **few)
    assert [tuple(row) for row in found.frets.tolist()] == expected
