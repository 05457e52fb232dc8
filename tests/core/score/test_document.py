"""A score's JSON: it reads back equal, and every part of it that is no score is refused."""

from __future__ import annotations

import json
import pickle
from collections.abc import Iterator
from copy import deepcopy
from fractions import Fraction

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import (
    Chord,
    Instrument,
    InstrumentString,
    NoteEvent,
    Pitch,
    Score,
    Voicing,
    find_voicings,
)
from gripwright.errors import ScoreError
from gripwright.neck.recipe import Recipe
from gripwright.score.document import SCHEMA, score_document
from gripwright.score.document_reader import read_score
from gripwright.score.sample import sample_score
from gripwright.theory import Degree

SAMPLE = sample_score()
NOTE = NoteEvent(Fraction(0), Fraction(4, 3), Pitch.parse("F#2"), 1, Fraction(1), 64)
FULL = attrs.evolve(
    SAMPLE,
    events=[attrs.evolve(SAMPLE.events[0], accent=True, push=True), SAMPLE.events[1]],
    bars=[*SAMPLE.bars[:-1], attrs.evolve(SAMPLE.bars[-1], section="A", ending=True)],
    bass=[NOTE],
    root=[NOTE],
    notes=["A note."],
)
"""A score with something in every list."""

DOCUMENT = json.loads(score_document(FULL))

Path = tuple[str | int, ...]


def _paths(value: object, path: Path = ()) -> Iterator[Path]:
    """Every place in a document, but for the later rows of its lists."""
    if path:
        yield path
    if isinstance(value, dict):
        for name in value:
            yield from _paths(value[name], (*path, name))
    elif isinstance(value, list) and value:
        yield from _paths(value[0], (*path, 0))


PATHS = tuple(_paths(DOCUMENT))
KEYS = tuple(path for path in PATHS if isinstance(path[-1], str))
OPTIONAL = {"accent", "push", "short", "section", "ending", "lead_in", "names", "approach"}
TIMES = {"onset", "end", "length", "lead_in", "tempo_bpm", "swing", "beat"}
FLAGS = {"accent", "push", "short", "ending"}


def _changed(path: Path, value: object) -> str:
    document = deepcopy(DOCUMENT)
    place = document
    for part in path[:-1]:
        place = place[part]
    place[path[-1]] = value
    return json.dumps(document)


def _refused(text: str) -> ScoreError:
    with pytest.raises(ScoreError) as caught:
        read_score(text)
    return caught.value


@pytest.mark.parametrize("score", [SAMPLE, FULL])
def test_a_score_reads_back_equal(score: Score) -> None:
    """And writes the same text again: ASCII, an event a line, a line feed at its end."""
    text = score_document(score)
    assert read_score(text) == score
    assert score_document(read_score(text)) == text
    assert text.isascii()
    assert text.endswith("}\n")
    assert sum('"grip"' in line for line in text.splitlines()) == len(score.events)


def test_the_document_says_what_it_is() -> None:
    """Its schema first; exact times as texts; each grip once."""
    assert next(iter(DOCUMENT)) == "schema"
    assert DOCUMENT["schema"] == SCHEMA == "gripwright/score/1"
    assert DOCUMENT["bass"][0]["end"] == "4/3"
    assert [one["frets"] for one in DOCUMENT["grips"]] == [
        [None, 5, 7, 5, 6, None],
        [3, None, 3, 4, 3, None],
    ]
    again = attrs.evolve(SAMPLE, events=[SAMPLE.events[0]] * 3)
    assert len(json.loads(score_document(again))["grips"]) == 1


@given(st.text(max_size=20), st.lists(st.text(max_size=20), max_size=3))
def test_every_text_survives(title: str, notes: list[str]) -> None:
    """Whatever a tune is called."""
    score = attrs.evolve(SAMPLE, title=title, rhythm=title, click=title, notes=notes)
    assert read_score(score_document(score)) == score


def test_an_instrument_of_any_kind_survives() -> None:
    """A short fifth string, paired strings, fanned frets, a capo."""
    strings = [
        InstrumentString(Pitch.parse("G4"), 500.5, first_fret=5),
        InstrumentString(Pitch.parse("D3"), 640.25, doubles=(Pitch.parse("D4"),)),
        InstrumentString(Pitch.parse("B3"), 640.0),
    ]
    own = Instrument("own", "Own", tuple(strings), frets=19, align_fret=6.5).with_capo(2)
    grip = find_voicings(Chord.parse("A"), own)[0]
    event = attrs.evolve(SAMPLE.events[0], voicing=grip)
    score = attrs.evolve(SAMPLE, instrument=own, events=[event])
    assert read_score(score_document(score)) == score


def test_a_colour_that_the_symbol_does_not_name_survives() -> None:
    """A grip with an added ninth is the same grip afterwards."""

    class Coloured:
        """One stack with a ninth."""

        name = "coloured"
        summary = "With a ninth."

        def recipes(self, _chord: Chord, /) -> list[Recipe]:
            """Return it."""
            return [Recipe(tuple(map(Degree, ("3", "b7", "9"))), "tensions")]

    table = find_voicings(Chord.parse("G7"), SAMPLE.instrument, strategy=Coloured())
    grip = table[0]
    assert grip.names != grip.chord.names
    score = attrs.evolve(SAMPLE, events=[attrs.evolve(SAMPLE.events[1], voicing=grip)])
    assert read_score(score_document(score)) == score


@pytest.mark.parametrize("path", [path for path in KEYS if path[-1] not in OPTIONAL], ids=str)
def test_a_missing_part_is_refused_where_it_is_missing(path: Path) -> None:
    """By a JSON pointer (RFC 6901) to the row that lacks it."""
    document = deepcopy(DOCUMENT)
    place = document
    for part in path[:-1]:
        place = place[part]
    del place[path[-1]]
    error = _refused(json.dumps(document))
    assert error.pointer.startswith(f"/{path[0]}")


@pytest.mark.parametrize("path", PATHS, ids=str)
def test_a_part_of_another_kind_is_refused(path: Path) -> None:
    """Nothing where something is, a list or a number where a text is, and so on."""
    optional = path[-1] in {"title", "section", "key", "chord"} or path[-2:-1] == ("frets",)
    kinds: list[object] = [None, 1.5, {"a": 1}, ["a"]]
    if path[-1] not in FLAGS:
        kinds.append(True)
    for value in kinds:
        fits = (
            (optional and value is None)
            or (path[-1] == "notes" and value == ["a"])
            or (path[-1] in {"scale_mm", "align_fret"} and value == 1.5)
        )
        if not fits:
            assert _refused(_changed(path, value)).pointer.startswith(f"/{path[0]}")


@pytest.mark.parametrize("path", [path for path in PATHS if path[-1] in TIMES], ids=str)
@pytest.mark.parametrize(
    "text",
    [
        "",
        "x",
        "1/0",
        "1e3",
        "1e999999999",
        "1_0",
        " 1",
        "1 ",
        "0.5",
        "\u0663",
        "1/2/3",
        "--1",
        "9" * 100,
    ],
)
def test_a_time_is_a_fraction_and_nothing_else(path: Path, text: str) -> None:
    """No exponent that would never end, no sign of another script."""
    error = _refused(_changed(path, text))
    assert error.pointer.startswith(f"/{path[0]}")
    assert "fraction" in error.found


@pytest.mark.parametrize(
    ("path", "value"),
    [
        *((("grips", 0, "frets", 1), fret) for fret in (-1, 99, "5", 2.0)),
        (("grips", 0, "frets"), [5, 7]),
        (("grips", 0, "frets", 0), 2),
        (("grips", 0, "chord"), "Qm7"),
        (("grips", 0, "chord"), "G7"),
        (("grips", 0, "names"), ["1"]),
        (("events", 0, "grip"), 2),
        (("events", 0, "grip"), -1),
        (("events", 0, "chord"), "G7"),
        (("events", 0, "stroke"), "sideways"),
        (("events", 0, "dynamic"), 128),
        (("events", 0, "dynamic"), 0),
        (("events", 0, "beat"), "1/2"),
        (("events", 0, "bar"), 7),
        (("events", 0, "end"), "0"),
        (("events", 0, "end"), "9"),
        (("events", 0, "onset"), "-9"),
        (("events", 0, "accent"), "yes"),
        (("clicks", 0, "accent"), 1),
        (("clicks", 0, "onset"), "8"),
        (("bass", 0, "pitch"), "H2"),
        (("bars", 0, "metre"), "4"),
        (("bars", 0, "onset"), "0"),
        (("bars", 0, "length"), "0"),
        (("bars", 0, "number"), 1),
        (("bars", 2, "lead_in"), "-1"),
        (("choruses", 0, "tempo_bpm"), "0"),
        (("choruses", 0, "swing"), "1/2"),
        (("choruses", 0, "end"), "-4"),
        (("choruses", 1, "key"), "H"),
        (("choruses", 1, "onset"), "-5"),
        (("changes", 0, "end"), "0"),
        (("changes", 0, "chord"), "Qm7"),
        (("instrument", "strings"), []),
        (("instrument", "strings", 0, "scale_mm"), "648"),
        (("instrument", "strings", 0, "scale_mm"), 0),
        (("instrument", "strings", 0, "open"), "H2"),
        (("instrument", "strings", 0, "doubles"), "E3"),
        (("instrument", "frets"), 0),
        (("schema",), "gripwright/score/2"),
        (("schema",), "gripwright/voicings/1"),
    ],
    ids=str,
)
def test_a_part_that_no_score_has_is_refused(path: Path, value: object) -> None:
    """With its place, or that of the whole where parts do not hold together."""
    error = _refused(_changed(path, value))
    assert error.pointer in {"", f"/{path[0]}", "/" + "/".join(map(str, path[:2]))}
    assert str(error).startswith("cannot read score")


@pytest.mark.parametrize(
    "text",
    [
        *("", "x", "[]", "1", "null", '"gripwright/score/1"', "{}", '{"schema": 1}', "{" * 99),
        *("[" * 100_000, score_document(SAMPLE)[:-3], score_document(SAMPLE) + "x", "\ufeff{}"),
    ],
    ids=lambda text: text[:20],
)
def test_a_text_that_is_no_document_is_refused(text: str) -> None:
    """Whatever it is."""
    _refused(text)


def test_a_text_that_is_too_long_is_refused_unread(monkeypatch: pytest.MonkeyPatch) -> None:
    """64 Mi characters are the most; here the bound is lowered, not the text made that long."""
    monkeypatch.setattr("gripwright.score.document_reader.LONGEST_TEXT", 100)
    assert "at most 100" in str(_refused(score_document(SAMPLE)))


def test_the_error_pickles() -> None:
    """With its place, what is there and what was expected."""
    error = _refused(_changed(("events", 0, "dynamic"), 200))
    again = pickle.loads(pickle.dumps(error))
    assert (again.pointer, again.found, again.expected) == (
        error.pointer,
        error.found,
        error.expected,
    )
    assert error.pointer == "/events/0"


def test_what_later_versions_add_is_passed_over() -> None:
    """A part that is not known says nothing of the parts that are."""
    document = json.dumps({**DOCUMENT, "later": [1, 2]})
    assert read_score(document) == FULL


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=5),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(st.sampled_from(list(DOCUMENT)), inner, max_size=4)
        ),
        max_leaves=8,
    ),
    st.sampled_from(PATHS),
)
def test_no_document_whatever_fails_otherwise(value: object, path: Path) -> None:
    """It is read, or refused by the one error."""
    try:
        score = read_score(_changed(path, value))
    except ScoreError:
        return
    assert read_score(score_document(score)) == score


def test_a_grip_with_a_tone_of_no_name_is_refused() -> None:
    """It would fail later, where it is drawn."""
    grip = Voicing(Chord.parse("C"), SAMPLE.instrument, (-1, 3, 2, 0, 1, 1))
    frets = [None if fret < 0 else fret for fret in grip.frets]
    assert _refused(_changed(("grips", 0), {"chord": "C", "frets": frets})).pointer == "/grips/0"


def test_grips_that_the_player_places_read_back() -> None:
    """They stand in the list of grips, each once; a change without one says nothing of it."""
    changes = [
        attrs.evolve(SAMPLE.changes[0], voicing=SAMPLE.events[0].voicing),
        SAMPLE.changes[1],
    ]
    score = attrs.evolve(SAMPLE, changes=changes)
    text = score_document(score)
    assert read_score(text) == score
    rows = json.loads(text)["changes"]
    assert [row.get("grip") for row in rows] == [0, None]
    assert len(json.loads(text)["grips"]) == 2
    assert read_score(score_document(attrs.evolve(score, events=()))).changes == tuple(changes)
    for wrong in ("2", "-1", "true", "null"):
        error = _refused(
            text.replace('"chord": "Dm7", "grip": 0}', f'"chord": "Dm7", "grip": {wrong}}}')
        )
        assert error.pointer == "/changes/0"
