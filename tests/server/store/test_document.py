"""Export and import: lossless, idempotent, whole or not at all."""

import json
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Instrument, InstrumentString, Pitch
from gripwright.errors import ConditionError
from gripwright.vocabulary import LadderPlace, Profile
from gripwright_server.store import Document, DocumentError, Review, Store
from tests.core.neck.reference import instrument
from tests.server.store.shelf import NOW, PLAYER, entries, filled

ODD = Instrument(
    "odd",
    "odd \u266f one",
    (
        InstrumentString(Pitch.parse("G4"), 670.125, first_fret=5),
        InstrumentString(Pitch.parse("D3"), 655.1, doubles=(Pitch.parse("D4"),)),
        InstrumentString(Pitch.parse("Eb3"), 1 / 3 * 1000),
    ),
    frets=19,
    align_fret=7.5,
    capo=2,
)


def test_a_store_goes_out_and_in_without_loss(tmp_path: Path) -> None:
    """Into a new store: equal bytes, equal plans, equal cards."""
    with filled(tmp_path / "one.db", 30) as one, Store.open(tmp_path / "two.db") as two:
        place = LadderPlace(12, 3, 72.5)
        one.keep_profile(
            attrs.evolve(PLAYER, left_handed=True, stroke="strum", band="solo", ladder=place)
        )
        one.change(
            entries()[0].id, note="\u266d \U0001d12a \x00\u2028", tags=("x",), state="retired"
        )
        one.add(entries())
        data = one.export()
        brought = two.bring_in(data)
        assert (brought.entries, brought.reviews) == (len(entries()), 120)
        assert brought.profile
        assert brought.differing == ()
        assert two.export() == data
        assert two.entries() == one.entries()
        assert two.reviews() == one.reviews()
        assert two.profile() == one.profile()
        for entry in entries():
            assert two.schedule(entry.id) == one.schedule(entry.id)
        assert two.check() == ()
        later = NOW + timedelta(days=9)
        assert two.standing("guitar", later) == one.standing("guitar", later)


def test_importing_again_changes_nothing(tmp_path: Path) -> None:
    """Into the store that it came from, and into another, as often as one likes."""
    with filled(tmp_path / "one.db") as one, Store.open(tmp_path / "two.db") as two:
        data = one.export()
        for store in (one, two, two, one):
            store.bring_in(data)
            assert store.export() == data
        again = two.bring_in(data)
        assert (again.entries, again.reviews, again.profile) == (0, 0, False)


def test_two_stores_come_together_in_either_order(tmp_path: Path) -> None:
    """Reviews of two machines: the schedule is that of all of them, whoever imports whom."""
    with Store.open(tmp_path / "one.db") as one, Store.open(tmp_path / "two.db") as two:
        entry = entries()[0]
        for place, store in enumerate((one, two, one, two)):
            store.add([entry])
            at = NOW + timedelta(days=place)
            store.review(Review(f"day-{place}", entry.id, "in-time", at))
        first, second = one.export(), two.export()
        one.bring_in(second)
        two.bring_in(first)
        assert one.export() == two.export()
        assert one.schedule(entry.id) == two.schedule(entry.id)
        assert len(one.reviews()) == 4


def test_what_the_store_has_otherwise_stays(tmp_path: Path) -> None:
    """And is told by name."""
    with filled(tmp_path / "one.db") as one, Store.open(tmp_path / "two.db") as two:
        two.bring_in(one.export())
        name = entries()[0].id
        one.change(name, note="mine")
        document = Document.load(two.export())
        other = attrs.evolve(document.reviews[0], grade="any-key")
        changed = attrs.evolve(document, reviews=(other, *document.reviews[1:]))
        brought = one.bring_in(changed.dump())
        assert brought.differing == (name, other.id)
        assert one.entry(name).note == "mine"
        assert one.reviews() == two.reviews()


def test_an_odd_instrument_comes_back_whole(tmp_path: Path) -> None:
    """Short strings, courses, fanned frets and a capo, to the last bit."""
    with Store.open(tmp_path / "one.db") as store:
        store.keep_profile(Profile(ODD))
        data = store.export()
    assert Document.load(data).instruments == (ODD,)
    with Store.open(tmp_path / "one.db") as store:
        assert store.profile() == Profile(ODD)


def test_other_strings_under_a_known_name_are_refused(tmp_path: Path) -> None:
    """Nothing of the document comes in."""
    other = attrs.evolve(instrument("guitar-dadgad"), id="guitar")
    with filled(tmp_path / "one.db") as store:
        before = store.export()
        document = Document(None, (other,), (), ())
        with pytest.raises(ConditionError, match="strings"):
            store.bring_in(document.dump())
        assert store.export() == before


def exported(tmp_path: Path) -> bytes:
    """Return the document of a filled store."""
    with filled(tmp_path / "source.db", 3) as store:
        return store.export()


def test_a_document_is_ascii_with_a_line_a_record(tmp_path: Path) -> None:
    """Readable by other programs, and by `diff`."""
    data = exported(tmp_path)
    whole = json.loads(data.decode("ascii"))
    assert whole["schema"] == "gripwright/vocabulary/1"
    assert set(whole) == {"schema", "profile", "instruments", "entries", "reviews"}
    records = len(whole["instruments"]) + len(whole["entries"]) + len(whole["reviews"])
    assert len(data.splitlines()) == records + 5


def test_an_import_cut_short_brings_nothing(tmp_path: Path) -> None:
    """At whatever byte it is cut."""
    data = exported(tmp_path)
    with Store.open(tmp_path / "two.db") as store:
        for end in (0, 1, 20, *range(30, len(data) - 2, 97), len(data) - 3):
            with pytest.raises(DocumentError, match="cut short"):
                store.bring_in(data[:end])
        assert store.entries() == ()
        assert store.profile() is None
        assert store.check() == ()


Change = Callable[[dict[str, Any]], object]

WRONG: dict[str, tuple[Change, str]] = {
    "other schema": (lambda whole: whole.update(schema="song/1"), "/schema"),
    "newer schema": (lambda whole: whole.update(schema="gripwright/vocabulary/2"), "/schema"),
    "no entries": (lambda whole: whole.pop("entries"), "/entries"),
    "entries no list": (lambda whole: whole.update(entries={}), "/entries"),
    "entry no object": (lambda whole: whole["entries"].__setitem__(1, 7), "/entries/1"),
    "bad chord": (lambda whole: whole["entries"][1].update(chord="Cmaj77"), "/entries/1/chord"),
    "bad frets": (lambda whole: whole["entries"][1].update(frets="x-3"), "/entries/1/frets"),
    "other id": (lambda whole: whole["entries"][1].update(id="mine"), "/entries/1/id"),
    "naive date": (
        lambda whole: whole["entries"][1].update(added="2026-01-05T20:00:00"),
        "/entries/1/added",
    ),
    "tags no list": (lambda whole: whole["entries"][1].update(tags="a"), "/entries/1/tags"),
    "tag no text": (lambda whole: whole["entries"][1].update(tags=[7]), "/entries/1/tags"),
    "bad state": (lambda whole: whole["entries"][1].update(state="lost"), "/entries/1"),
    # What JSON can write and UTF-8 cannot (RFC 8259, 8.2); found by fuzzing.
    "half a pair in a note": (
        lambda whole: whole["entries"][1].update(note="\ud800"),
        "/entries/1/note",
    ),
    "half a pair in a tag": (
        lambda whole: whole["entries"][1].update(tags=["\ud800"]),
        "/entries/1/tags",
    ),
    "half a pair in a name": (
        lambda whole: whole["instruments"][0].update(name="\udfff"),
        "/instruments/0/name",
    ),
    "no note": (lambda whole: whole["entries"][1].pop("note"), "/entries/1/note"),
    "no instrument": (
        lambda whole: whole["entries"][1].update(instrument="lute"),
        "/entries/1/instrument",
    ),
    "bad pitch": (
        lambda whole: whole["instruments"][0]["strings"][0].update(open="H9"),
        "/instruments/0/open",
    ),
    "frets as text": (
        lambda whole: whole["instruments"][0].update(frets="22"),
        "/instruments/0/frets",
    ),
    "frets true": (
        lambda whole: whole["instruments"][0].update(frets=True),
        "/instruments/0/frets",
    ),
    "too many frets": (lambda whole: whole["instruments"][0].update(frets=99), "/instruments/0"),
    "bad grade": (lambda whole: whole["reviews"][2].update(grade="good"), "/reviews/2"),
    "bad time": (
        lambda whole: whole["reviews"][2].update(reviewed_at="soon"),
        "/reviews/2/reviewed_at",
    ),
    "review of nothing": (
        lambda whole: whole["reviews"][2].update(entry="lost"),
        "/reviews/2/entry",
    ),
    "bad profile": (lambda whole: whole["profile"].update(stroke="slap"), "/profile"),
    "profile of nothing": (
        lambda whole: whole["profile"].update(instrument="lute"),
        "/profile/instrument",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_record_is_named_and_nothing_comes_in(tmp_path: Path, name: str) -> None:
    """By its JSON pointer (RFC 6901)."""
    change, pointer = WRONG[name]
    whole = json.loads(exported(tmp_path))
    change(whole)
    with Store.open(tmp_path / "two.db") as store:
        with pytest.raises(DocumentError) as refused:
            store.bring_in(json.dumps(whole).encode())
        assert refused.value.pointer == pointer
        assert store.entries() == ()
        assert store.reviews() == ()
        assert store.profile() is None


@given(data=st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_bytes_are_a_document_or_an_error_of_ours(data: bytes) -> None:
    """Nothing else is raised."""
    with pytest.raises(DocumentError):
        Document.load(data)


@pytest.mark.parametrize("text", ["[" * 100_000, '{"schema": NaN}', "[]", "7", '"x"'])
def test_json_that_is_no_document_is_refused(text: str) -> None:
    """Deep nests, what is no number, and values of other kinds."""
    with pytest.raises(DocumentError):
        Document.load(text.encode())
