"""The starter set: what every teacher shows, made by the library on any instrument."""

import pytest

from gripwright import Hand
from gripwright.vocabulary import Facts, Profile, fits_hand, question, starter_set
from tests.core.neck.reference import instrument, rows
from tests.core.vocabulary.players import GUITAR, PLAYER, grip


def test_it_has_the_first_grips() -> None:
    """Rows of first-grips.tsv (common practice) for open triads and the barre forms."""
    found = {Facts.of(one.grip).id for one in starter_set(PLAYER)}
    wanted = [row for row in rows("first-grips.tsv") if row["chord"] in {*"CGDAF", "Cmaj7", "Dm7"}]
    held = [row for row in wanted if Facts.of(grip(row["chord"], row["frets"])).id in found]
    assert {row["chord"] for row in held} >= {"C", "G", "D", "A", "F", "Cmaj7", "Dm7"}


def test_it_has_the_shells_and_the_first_four_note_grips() -> None:
    """Worked in voicings.tsv (common practice): shells, drop 2 and drop 3 with the root lowest."""
    found = {Facts.of(one.grip).id for one in starter_set(PLAYER)}
    for symbol, shape in (
        *(("G7", "3-x-3-4-3-x"), ("Gmaj7", "3-x-4-4-3-x"), ("Gm7", "3-x-3-3-3-x")),
        *(("Bm7b5", "x-2-3-2-3-x"), ("Bdim7", "x-2-3-1-3-x"), ("Cmaj7", "x-3-5-4-5-x")),
    ):
        assert Facts.of(grip(symbol, shape)).id in found, symbol


@pytest.mark.parametrize(
    "name", sorted({row["id"] for row in rows("tunings.tsv")} - {"bass", "bass-five", "bass-six"})
)
def test_it_stands_on_every_tuning(name: str) -> None:
    """Every grip says its chord, can be held, and comes once; there are some everywhere."""
    player = Profile(instrument(name))
    found = starter_set(player)
    assert len({Facts.of(one.grip).id for one in found}) == len(found)
    assert all(question(one.grip) is None for one in found)
    assert all(fits_hand(one.grip, player.hand) for one in found)
    assert {one.grip.instrument.id for one in found} <= {name}


def test_most_of_it_stands_on_the_guitar() -> None:
    """Each stage is there, in order."""
    stages = [one.stage for one in starter_set(PLAYER)]
    assert list(dict.fromkeys(stages)) == [
        "open chords",
        "movable triads",
        "shells",
        "four-note grips",
    ]
    assert len(stages) >= 30


def test_a_small_hand_gets_a_set_of_its_own() -> None:
    """Nothing in it is beyond the hand."""
    player = Profile(GUITAR, Hand(fingers=3, reach_mm=80))
    found = starter_set(player)
    assert len(found) > 5
    assert all(fits_hand(one.grip, player.hand) for one in found)
