"""Entries: what is worked out of a grip, and one name wherever it is held."""

import pickle
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given

from gripwright import Chord, ConditionError, Note, Voicing
from gripwright.vocabulary import Entry, Facts, category_in_words, grip_for, on_root
from tests.core.neck.reference import frets_of, instrument, rows
from tests.core.vocabulary.players import GUITAR, MOVABLE, ROOTS, grip

NOW = datetime(2026, 1, 5, 20, tzinfo=UTC)
FAMILIES = {"drop2": "drop-2", "drop3": "drop-3", "drop2&4": "drop-2-4", "close": "close"}


@pytest.mark.parametrize(
    "row",
    [row for row in rows("voicings.tsv") if row["family"] in FAMILIES],
    ids=lambda row: f"{row['chord']} {row['frets']}",
)
def test_facts_are_those_of_the_worked_table(row: dict[str, str]) -> None:
    """Degrees, family and inversion are as voicings.tsv has them (common practice)."""
    facts = Facts.of(grip(row["chord"], row["frets"]))
    assert " ".join(facts.degrees) == row["degrees"]
    assert FAMILIES[row["family"]] in facts.families
    assert facts.inversion == row["inversion"]


@given(voicing=MOVABLE, root=ROOTS)
def test_a_grip_has_one_name_wherever_it_is_entered(voicing: Voicing, root: Note) -> None:
    """All that is worked out is the same at every place."""
    for place in on_root(voicing, root):
        assert Facts.of(place) == Facts.of(voicing)


@given(voicing=MOVABLE)
def test_a_name_gives_the_grip_back(voicing: Voicing) -> None:
    """The grip where the name has it has the same facts."""
    facts = Facts.of(voicing)
    assert Facts.of(facts.voicing(GUITAR)) == facts


def test_facts_of_many_are_those_of_each() -> None:
    """Worked out together or one by one, over several chords and instruments."""
    ukulele = instrument("ukulele")
    grips = [grip(row["chord"], row["frets"]) for row in rows("voicings.tsv")]
    grips += [grip_for(Chord.parse("C"), ukulele, frets_of("0-0-0-3"))]
    assert Facts.of_all(grips) == tuple(map(Facts.of, grips))


def test_the_same_shape_for_two_chords_is_two_entries() -> None:
    """Am7 and C6 share the shape, and are kept under each."""
    one, other = Facts.of(grip("Am7", "x-x-7-9-8-8")), Facts.of(grip("C6", "x-x-7-9-8-8"))
    assert one.id != other.id
    assert (one.category, other.category) == ("m7", "6")
    assert (one.top_degree, other.top_degree) == ("b3", "1")


def test_guide_tones_name_the_chord_that_they_serve() -> None:
    """Third and seventh of C7 are seventh and third of F#7: two entries of one category."""
    one, other = Facts.of(grip("C7", "x-x-2-3-x-x")), Facts.of(grip("F#7", "x-x-2-3-x-x"))
    assert one.category == other.category == "7"
    assert one.id != other.id


def test_a_slash_that_tells_the_inversion_makes_no_other_entry() -> None:
    """C/E and C in first inversion are one; a foreign bass is another category."""
    assert Facts.of(grip("C/E", "0-3-2-0-1-0")).id == Facts.of(grip("C", "0-3-2-0-1-0")).id
    foreign = Facts.of(grip("F/G", "3-x-3-2-1-1"))
    assert foreign.category == "/+9"
    assert category_in_words(foreign.category) == "major triad over the ninth"
    assert Facts.of(foreign.voicing(GUITAR)) == foreign


def test_an_instrument_is_part_of_the_name() -> None:
    """A capo makes another instrument."""
    capo = GUITAR.with_capo(2)
    entry = Entry(grip("D", "x-3-2-0-1-0", capo), NOW)
    assert entry.id == "guitar+capo2:x-3-2-0-1-0=D"
    assert not entry.facts.movable


def test_tags_are_sorted_and_kept_once() -> None:
    """Blank ones are dropped."""
    entry = Entry(grip("C", "x-3-2-0-1-0"), NOW, tags=("open", " first ", "open", ""))
    assert entry.tags == ("first", "open")


@pytest.mark.parametrize(
    "wrong",
    [
        {"added": datetime(2026, 1, 5)},  # noqa: DTZ001 - what is refused
        {"note": "x" * 2001},
        {"source": "x" * 2001},
        {"note": "\ud800"},
        {"source": "a\udcff"},
        {"tags": ("\udfff",)},
        {"tags": ("x" * 41,)},
        {"tags": tuple(map(str, range(41)))},
        {"state": "lost"},
    ],
    ids=lambda wrong: next(iter(wrong)),
)
def test_values_out_of_range_are_refused(wrong: dict[str, object]) -> None:
    """A naive time above all: it is another moment wherever it is read."""
    given_values: dict[str, object] = {"added": NOW, **wrong}
    with pytest.raises(ConditionError) as refused:
        Entry(grip("C", "x-3-2-0-1-0"), **given_values)  # type: ignore[arg-type]
    assert refused.value.name == next(iter(wrong))


def test_an_entry_is_a_value() -> None:
    """Equal where grip and words are; the same moment in two time zones is one."""
    there = NOW.astimezone(timezone(timedelta(hours=5, minutes=30)))
    one, other = Entry(grip("C", "x-3-2-0-1-0"), NOW), Entry(grip("C", "x-3-2-0-1-0"), there)
    assert one == other
    assert pickle.loads(pickle.dumps(one)) == one


def test_words_say_what_it_is() -> None:
    """Kind of chord, top, strings and inversion."""
    words = Entry(grip("Dm11", "x-5-5-5-6-x"), NOW).words
    assert words == "minor eleventh, minor third on top, the inner strings, root position"
