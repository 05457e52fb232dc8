"""Naming as an operation."""

import pickle

import pytest

from gripwright import Registry, load_registry
from gripwright.errors import NotationError
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.name import NameRequest, NameRow, NoCommonNameError, name


@pytest.fixture(scope="module")
def registry() -> Registry:
    """The plugins that are installed."""
    return load_registry()


def _no_registry() -> Registry:
    pytest.fail("notes need no plugin")


def _rows(registry: Registry, **request: str | int | None) -> list[NameRow]:
    return list(name(NameRequest(**request), lambda: registry).rows())  # type: ignore[arg-type]


def test_grip_of_em7_tells_em7_and_cmaj9_without_its_root(registry: Registry) -> None:
    """Rows tell symbol, root, degrees, notes and what is left out."""
    first, _, third, *_ = _rows(registry, notes="x-7-9-7-8-x")
    assert first == NameRow(
        symbol="Em7",
        root="E",
        bass=None,
        rooted=True,
        degrees=("1", "5", "b7", "b3"),
        notes=("E", "B", "D", "G"),
        left_out=(),
        essential_left_out=(),
    )
    assert (third.symbol, third.rooted, third.left_out) == ("Cmaj9", False, ("1",))


def test_notes_need_no_instrument() -> None:
    """Notes are named without any plugin."""
    result = name(NameRequest(notes="C E G B"), _no_registry)
    assert next(result.rows()).symbol == "Cmaj7"


def test_written_notes_keep_their_spelling_and_frets_have_none(registry: Registry) -> None:
    """Gb Bb Db is Gb; the fret that sounds like it is F#."""
    assert _rows(registry, notes="Gb Bb Db")[0].symbol == "Gb"
    assert _rows(registry, notes="2-4-4-3-2-2")[0].symbol == "F#"


def test_pitches_have_a_bass_and_notes_leave_it_open() -> None:
    """With octaves the lowest note stands after the slash."""
    (first, *_) = name(NameRequest(notes="E3 G3 C4"), _no_registry).rows()
    assert (first.symbol, first.bass) == ("C/E", "E")
    (first, *_) = name(NameRequest(notes="E G C"), _no_registry).rows()
    assert (first.symbol, first.bass) == ("C", None)


@pytest.mark.parametrize("over", ["D", "D2"])
def test_stated_bass_sounds_below(over: str) -> None:
    """A bass player's note, with or without its octave."""
    (first, *_) = name(NameRequest(notes="C E G", over=over), _no_registry).rows()
    assert (first.symbol, first.bass, first.rooted) == ("C/D", "D", True)


def test_limit_cuts_the_rows_and_not_the_count() -> None:
    """Twenty are shown where nothing else is asked for; None shows all."""
    usual = name(NameRequest(notes="C E G"), _no_registry)
    every = name(NameRequest(notes="C E G", limit=None), _no_registry)
    assert (usual.returned, len(list(usual.rows()))) == (20, 20)
    assert usual.count == every.count == every.returned == len(list(every.rows()))
    assert every.count > 20
    assert list(every.rows())[:20] == list(usual.rows())


def test_instrument_and_capo_decide_what_frets_sound(registry: Registry) -> None:
    """The same frets are another chord on another instrument, or behind a capo."""
    assert _rows(registry, notes="0-0-0-3", instrument="ukulele")[0].symbol == "C"
    assert _rows(registry, notes="x-3-2-0-1-0", capo=2)[0].symbol == "D"
    with pytest.raises(NotationError):
        _rows(registry, notes="0-0-0-3")


def test_re_entrant_string_is_not_the_bass(registry: Registry) -> None:
    """The first string of a ukulele sounds above the second, which carries the root of C6."""
    # Open strings G4 C4 E4 A4: C6 in root position, though the row of strings begins with G.
    first, *_ = _rows(registry, notes="0000", instrument="ukulele")
    assert (first.symbol, first.degrees) == ("C6", ("5", "1", "3", "6"))


def test_notes_that_are_no_chord_have_an_honest_answer() -> None:
    """The intervals are told, in words and as data."""
    with pytest.raises(NoCommonNameError) as caught:
        name(NameRequest(notes="C Db D F#"), _no_registry)
    assert isinstance(caught.value, NothingFoundError)
    assert caught.value.intervals == ("m2", "M2", "A4")
    assert "no common name" in str(caught.value)
    assert "m2 M2 A4" in str(caught.value)
    again = pickle.loads(pickle.dumps(caught.value))
    assert (again.intervals, str(again)) == (caught.value.intervals, str(caught.value))


def test_frets_that_are_no_chord_tell_plain_intervals(registry: Registry) -> None:
    """Off a neck nothing tells an augmented fourth from a diminished fifth."""
    # Strings E2 A2 D3 at frets 0, 8, 4: E2, F3 and F#3.
    with pytest.raises(NoCommonNameError) as caught:
        _rows(registry, notes="0-8-4-0-x-x", over="F")
    assert caught.value.intervals == ("m2", "M2", "M7")


def test_muted_strings_are_nothing_found(registry: Registry) -> None:
    """A shape without a sound is right and has no name."""
    with pytest.raises(NothingFoundError, match="muted"):
        _rows(registry, notes="xxxxxx")


@pytest.mark.parametrize("text", ["", "q", "?", " x35453", "7 q"])
def test_what_is_neither_frets_nor_notes_is_refused(registry: Registry, text: str) -> None:
    """The whole text is kept, for the caret."""
    with pytest.raises(NotationError) as caught:
        _rows(registry, notes=text)
    assert caught.value.text == text


@pytest.mark.parametrize(("over", "position"), [("q", 0), ("", 0), ("Dq", 1), ("D2x", 2)])
def test_unreadable_bass_is_placed(over: str, position: int) -> None:
    """The bass is read on its own."""
    with pytest.raises(NotationError) as caught:
        name(NameRequest(notes="C E G", over=over), _no_registry)
    assert (caught.value.text, caught.value.position) == (over, position)
