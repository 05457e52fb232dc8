"""The explanation of a shape as an operation."""

import functools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, Registry, Shape, find_voicings, load_registry
from gripwright.errors import ConditionError, NotationError, UnknownNameError
from gripwright_server.operations.explain import ExplainRequest, ExplainRow, explain
from tests.core.neck.reference import rows

REGISTRY: Registry = load_registry()


def _row(symbol: str, shape: str, **options: str | float) -> ExplainRow:
    request = ExplainRequest(symbol=symbol, shape=shape, **options)  # type: ignore[arg-type]
    (row,) = explain(request, lambda: REGISTRY).rows()
    return row


@functools.cache
def _playable(symbol: str, instrument: str) -> frozenset[tuple[int, ...]]:
    table = find_voicings(Chord.parse(symbol), REGISTRY.instruments[instrument])
    return frozenset(map(tuple, table.frets.tolist()))


@given(
    symbol=st.sampled_from(["C", "Am7", "G7/B", "F#m7b5", "C/D", "Bb13", "E5"]),
    name=st.sampled_from(["guitar", "ukulele", "banjo"]),
    data=st.data(),
)
def test_shape_is_playable_exactly_if_the_search_finds_it(
    symbol: str, name: str, data: st.DataObject
) -> None:
    """The explanation agrees with the set of all voicings, near it and in it."""
    instrument = REGISTRY.instruments[name]
    found = _playable(symbol, name)
    frets = list(data.draw(st.sampled_from(sorted(found))))
    for _ in range(data.draw(st.integers(0, 2))):
        string = data.draw(st.integers(0, len(frets) - 1))
        presses = st.integers(instrument.lowest_press(string), instrument.frets)
        frets[string] = data.draw(st.sampled_from([-1, 0]) | presses)
    row = _row(symbol, str(Shape(frets)), instrument=name)
    assert row.playable == (tuple(frets) in found)
    assert row.playable == (not row.faults) == (not row.instead)
    assert (row.fingering is None) == (row.fingers is None) == (not row.playable)
    for id_ in row.instead:
        assert Shape.parse(id_.removeprefix(f"{name}:")).frets in found


@given(
    symbol=st.sampled_from(["C", "Cmaj7", "Bbm7", "G7alt", "F#dim7", "Eb6", "Dsus4"]),
    frets=st.lists(st.integers(0, 22), min_size=6, max_size=6),
)
def test_reasons_and_row_call_a_foreign_tone_alike(symbol: str, frets: list[int]) -> None:
    """What a sentence says of a string stands under that string too."""
    row = _row(symbol, str(Shape(frets)))
    foreign = {s: fault for fault in row.faults for s in fault["strings"] if _is_foreign(fault)}
    for place, (pitch, degree) in enumerate(zip(row.pitches, row.degrees, strict=True)):
        own = degree in Chord.parse(symbol).degrees
        assert own == (6 - place not in foreign)
        if not own:
            assert f"sounds {pitch} ({degree})," in foreign[6 - place]["sentence"]


def _is_foreign(fault: object) -> bool:
    return isinstance(fault, dict) and fault["kind"] == "foreign"


@pytest.mark.parametrize(
    "worked", rows("voicings.tsv"), ids=lambda row: f"{row['chord']} {row['frets']}"
)
def test_worked_voicings_are_explained_as_the_table_has_them(worked: dict[str, str]) -> None:
    """Worked voicings (common practice): those of the symbol's own tones are found playable."""
    row = _row(worked["chord"], worked["frets"], reach_mm=130.0)
    foreign = [fault for fault in row.faults if fault["kind"] == "foreign"]
    assert " ".join(row.pitches) == worked["notes"]
    if worked["strategy"] in {"any", "close", "drop-2", "drop-3", "drop-2-4", "double-drop"}:
        assert not foreign
        assert row.playable
        assert " ".join(row.degrees) == worked["degrees"]
        assert worked["inversion"] in {"", row.inversion}
        assert worked["strategy"] in {"any", *row.families}


def test_foreign_and_missing_tone_are_told_with_what_to_play_instead() -> None:
    """The seventh of Cmaj7 a fret too low: what sounds, what is missing, what mends it."""
    row = _row("Cmaj7", "x-3-5-3-5-x")
    assert [fault["kind"] for fault in row.faults] == ["foreign", "missing"]
    assert row.faults[0]["strings"] == (3,)
    assert "Bb3 (b7)" in row.faults[0]["sentence"]
    assert row.degrees == ("1", "5", "b7", "3")
    assert row.left_out == ("7",)
    assert row.families == ()
    assert row.instead[0] == "guitar:x-3-5-4-5-x"


def test_playable_shape_has_families_fingers_and_nothing_instead() -> None:
    """Drop 2 in root position, one finger a fret and a string."""
    row = _row("Cmaj7", "x3545x")
    assert (row.playable, row.inversion, row.instead) == (True, "root", ())
    assert "drop-2" in row.families
    assert row.fingers == (None, 1, 3, 2, 4, None)
    assert row.fingering is not None
    assert row.fingering.startswith("index on string 5 at fret 3")


def test_hand_and_stroke_of_the_request_count() -> None:
    """A shape is judged by the player's own hand, left and right."""
    assert _row("Cmaj7", "x-3-5-4-5-x", reach_mm=50.0).faults[0]["kind"] == "reach"
    assert _row("Cmaj7", "x-3-5-4-5-x", fingers=3).faults[0]["kind"] == "fingers"
    assert _row("Cmaj7", "x-3-2-0-0-0", stroke="pluck").faults[0]["kind"] == "stroke"
    assert _row("Cmaj7", "x-3-2-0-0-0", stroke="pluck", pluck_fingers=5).playable


def test_families_of_a_shape_beyond_the_hand_are_told_all_the_same() -> None:
    """A hand that is too small changes nothing in what sounds."""
    row = _row("Cmaj7", "x-3-5-4-5-x", reach_mm=50.0)
    assert "drop-2" in row.families
    assert row.fingering is None


def test_nothing_sounds() -> None:
    """Silence has no tones, no inversion and no family."""
    row = _row("C", "xxxxxx")
    assert [fault["kind"] for fault in row.faults] == ["notes"]
    assert (row.pitches, row.inversion, row.families) == ((), None, ())
    assert row.instead


def test_frets_count_from_the_capo() -> None:
    """Under a capo the open shape of C sounds D."""
    row = _row("D", "x-3-2-0-1-0", capo=2)
    assert row.playable
    assert row.id == "guitar+capo2:x-3-2-0-1-0"


@pytest.mark.parametrize(
    ("shape", "position"),
    [
        ("x-3-5-4-5", 9),
        ("x3545", 5),
        ("x-3-5-4-5-x-3", 12),
        ("x-3-23-4-5-x", 4),
        ("x-3-5-y-5-x", 6),
        ("x35q", 3),
        ("", 0),
    ],
)
def test_frets_that_do_not_fit_are_marked(shape: str, position: int) -> None:
    """Too few, too many, beyond the neck, unreadable: each error has the place."""
    with pytest.raises(NotationError) as caught:
        _row("Cmaj7", shape)
    assert (caught.value.what, caught.value.position) == ("shape", position)


def test_unknown_instrument_and_stroke_name_the_nearest() -> None:
    """A misspelt name is told what there is."""
    with pytest.raises(UnknownNameError, match="guitar"):
        _row("C", "x-3-2-0-1-0", instrument="gitar")
    with pytest.raises(UnknownNameError, match="strum"):
        _row("C", "x-3-2-0-1-0", stroke="strumm")
    with pytest.raises(ConditionError):
        _row("C", "x-3-2-0-1-0", pluck_fingers=3)
