"""The instrument and the hand that a request names."""

import pytest

from gripwright import Hand, Registry, load_registry
from gripwright.errors import NotationError, UnknownNameError
from gripwright.neck.hand import LONGEST_REACH_MM, MOST_FINGERS
from gripwright.neck.instrument import MOST_FRETS
from gripwright_server.operations import request_schema
from gripwright_server.operations.player import (
    HandOptions,
    InstrumentOptions,
    hand_of,
    instrument_of,
)


@pytest.fixture(scope="module")
def registry() -> Registry:
    """The plugins that are installed."""
    return load_registry()


def test_known_id_gives_the_instrument_of_the_plugin(registry: Registry) -> None:
    """An id is looked up as it stands."""
    assert instrument_of(InstrumentOptions(), registry) == registry.instruments["guitar"]


def test_unknown_id_names_the_nearest(registry: Registry) -> None:
    """A misspelt id is no tuning."""
    with pytest.raises(UnknownNameError) as caught:
        instrument_of(InstrumentOptions(instrument="gitar"), registry)
    assert "guitar" in caught.value.nearest


@pytest.mark.parametrize("text", ["E2 A2 D3 G3 C4 F4", "E2.A2.D3.G3.C4.F4", "  E2  A2 D3 G3 C4 F4"])
def test_open_strings_give_an_instrument_of_their_own(registry: Registry, text: str) -> None:
    """A tuning is read, and the id that it gets is read as the same tuning."""
    instrument = instrument_of(InstrumentOptions(instrument=text), registry)
    assert instrument.id == "E2.A2.D3.G3.C4.F4"
    assert (instrument.frets, instrument.scale_mm) == (22, 648.0)


def test_frets_and_scale_of_a_tuning_can_be_given(registry: Registry) -> None:
    """The player's own make counts."""
    options = InstrumentOptions(instrument="G4 C4 E4 A4", frets=15, scale_mm=345.0)
    instrument = instrument_of(options, registry)
    assert (instrument.frets, instrument.scale_mm) == (15, 345.0)


def test_frets_and_scale_of_a_named_instrument_can_be_given(registry: Registry) -> None:
    """A named instrument can be of another make: the grips keep its id."""
    instrument = instrument_of(InstrumentOptions(frets=24, scale_mm=628.0), registry)
    assert instrument.id == "guitar"
    assert instrument.frets == 24
    assert {string.scale_mm for string in instrument.strings} == {628.0}


def test_capo_gives_the_instrument_behind_it(registry: Registry) -> None:
    """Frets count from the capo."""
    guitar = registry.instruments["guitar"]
    assert instrument_of(InstrumentOptions(capo=2), registry) == guitar.with_capo(2)


@pytest.mark.parametrize("text", ["E2 A2 H3", "E2 A", "E2 A2 D3 x"])
def test_unreadable_strings_are_marked(registry: Registry, text: str) -> None:
    """A tuning that cannot be read keeps the user's whole text and the place in it."""
    with pytest.raises(NotationError) as caught:
        instrument_of(InstrumentOptions(instrument=text), registry)
    assert caught.value.text == text
    assert caught.value.position >= 3


def test_ranges_are_those_of_the_library() -> None:
    """What the library refuses by range, the request refuses by its declaration."""
    hand, neck = (request_schema(one)["properties"] for one in (HandOptions, InstrumentOptions))
    assert (hand["fingers"]["minimum"], hand["fingers"]["maximum"]) == (1, MOST_FINGERS)
    assert (hand["reach_mm"]["minimum"], hand["reach_mm"]["maximum"]) == (0, LONGEST_REACH_MM)
    assert (neck["frets"]["minimum"], neck["frets"]["maximum"]) == (1, MOST_FRETS)
    assert (neck["capo"]["minimum"], neck["capo"]["maximum"]) == (0, MOST_FRETS - 1)


def test_hand_of_a_request() -> None:
    """Fingers and reach are those asked for."""
    assert hand_of(HandOptions(fingers=3, reach_mm=80.0)) == Hand(fingers=3, reach_mm=80.0)
    assert hand_of(HandOptions()) == Hand()
