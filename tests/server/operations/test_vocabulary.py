"""The operations on a vocabulary: laws that every surface relies on, and what they take."""

import importlib
from datetime import UTC, datetime
from pathlib import Path

import attrs
import click
import jsonschema_rs
import pytest

from gripwright import Chord, Instrument, Quality, Registry, load_registry
from gripwright.errors import ConditionError, UnknownNameError
from gripwright.leading.band import BANDS
from gripwright.neck.conditions import STROKES
from gripwright.vocabulary import GRADES, STATES, SYLLABUS, Entry, grip_for, prompt
from gripwright_server.cli.vocabulary import StoreCommand
from gripwright_server.formats import FORMATS
from gripwright_server.operations import request_fields, request_schema
from gripwright_server.operations.vocabulary import VOCABULARY, Desk, StoreOperation
from gripwright_server.operations.vocabulary.begin import BeginRequest, begin
from gripwright_server.operations.vocabulary.entries import (
    AddRequest,
    EntryRequest,
    ListRequest,
    add,
    category_named,
    list_entries,
)
from gripwright_server.operations.vocabulary.handle import handle_of, name_of
from gripwright_server.operations.vocabulary.moment import moment_of
from gripwright_server.operations.vocabulary.showing import show
from gripwright_server.store import Store

NOW = datetime(2026, 1, 5, 20, tzinfo=UTC)
REGISTRY = load_registry()

every_operation = pytest.mark.parametrize(
    "operation", VOCABULARY, ids=[operation.name for operation in VOCABULARY]
)


def registry() -> Registry:
    """The plugins of the tests, loaded once."""
    return REGISTRY


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A desk where a vocabulary has begun, without grips."""
    found = Desk(path=tmp_path / "grips.db", now=NOW, registry=registry)
    begin(BeginRequest(bare=True), found)
    return found


def choices(request: type, name: str) -> tuple[str, ...]:
    """The choices of a field."""
    (field,) = (field for field in request_fields(request) if field.name == name)
    return field.option.choices


def request_of(name: str) -> type:
    """The request of an operation."""
    return next(operation.request for operation in VOCABULARY if operation.name == name)


def test_operations_are_sorted_and_named_once() -> None:
    """The order of the list is that of the names."""
    names = [operation.name for operation in VOCABULARY]
    assert names == sorted(set(names))
    assert len({operation.full_name for operation in VOCABULARY}) == len(names)


@every_operation
def test_every_field_is_declared_and_stands_in_the_help(operation: StoreOperation) -> None:
    """The command line offers every field, and the file of the store."""
    fields = request_fields(operation.request)
    assert {field.name for field in fields} == set(attrs.fields_dict(operation.request))
    command = StoreCommand(operation)
    text = command.get_help(click.Context(command))
    for field in fields:
        option = f"--{field.name.removesuffix('s') if field.many else field.name}"
        shown = str(field.option.form) if field.option.positional else option.replace("_", "-")
        assert shown in text
        assert field.option.help[0].islower() or field.option.help[0].isdigit()
        assert not field.option.help.endswith(".")
    assert "--store FILE" in text


@every_operation
def test_schema_is_a_schema_whose_defaults_satisfy_it(operation: StoreOperation) -> None:
    """What is assumed where nothing is said is itself allowed."""
    schema = request_schema(operation.request)
    assert jsonschema_rs.meta.is_valid(schema)
    for name, value in schema["properties"].items():
        if "default" in value:
            assert jsonschema_rs.is_valid(value, value["default"]), name


@every_operation
def test_every_operation_has_a_table_its_pictures_and_its_formats(
    operation: StoreOperation,
) -> None:
    """Modules are found by the name of the operation."""
    table = importlib.import_module(f"gripwright_server.cli.table.{operation.module}")
    assert callable(table.lines)
    assert set(operation.formats) <= set(FORMATS)
    if "pdf" in operation.formats:
        module = importlib.import_module(f"gripwright_server.formats.picture.{operation.module}")
        assert callable(module.document)
        assert callable(module.picture)


@pytest.mark.parametrize(
    ("name", "field", "known"),
    [
        ("list", "state", STATES),
        ("change", "state", STATES),
        ("review", "grade", tuple(GRADES)),
        ("ask", "kind", prompt.KINDS),
        ("begin", "stroke", STROKES),
        ("begin", "band", ("none", *BANDS)),
    ],
)
def test_choices_are_those_of_the_library(name: str, field: str, known: tuple[str, ...]) -> None:
    """What a surface offers is what the library takes, no more and no less."""
    assert choices(request_of(name), field) == known


def test_handles_are_short_and_tell_entries_apart() -> None:
    """The handle of each of ten thousand grips is its own, and says nothing of the grip."""
    names = [f"guitar:x-{fret}-{number}-4-5-x=C" for fret in range(100) for number in range(100)]
    handles = {handle_of(name) for name in names}
    assert len(handles) == len(names)
    assert all(len(handle) == 6 and handle.isalnum() for handle in handles)


def test_entry_is_meant_by_name_handle_or_grip(desk: Desk) -> None:
    """Each way leads to the same entry; a way that leads nowhere names the nearest."""
    (entry,) = add(AddRequest(symbol="F7", frets="1-x-1-2-1-x"), desk).entries
    with Store.open(desk.path) as store:
        handle = handle_of(entry.id)
        for text in (entry.id, handle, handle.upper(), "3-x-3-4-3-x=G7", "guitar:1-x-1-2-1-x=F7"):
            assert name_of(text, store) == entry.id
        with pytest.raises(UnknownNameError) as refused:
            name_of(f"{handle[:-1]}", store)
        assert handle in refused.value.nearest


def test_grip_of_another_instrument_is_kept_beside_the_others(desk: Desk) -> None:
    """A player of two instruments has one vocabulary; its plan is that of the profile's."""
    add(AddRequest(symbol="C", frets="0-0-0-3", instrument="ukulele"), desk)
    (entry,) = list_entries(ListRequest(), desk).entries
    assert entry.voicing.instrument.id == "ukulele"
    assert show(EntryRequest(entry=handle_of(entry.id)), desk).places == ("0-0-0-3",)


@pytest.mark.parametrize("quality", SYLLABUS, ids=lambda quality: quality.name or "major")
def test_category_is_named_by_suffix_or_symbol(quality: Quality) -> None:
    """Either is what a grip of that kind is kept under."""
    assert category_named(quality.name) == quality.name
    assert category_named(f"Eb{quality.name}") == quality.name


def test_category_of_a_foreign_bass_is_named_by_its_symbol() -> None:
    """A triad over another bass is a kind of its own."""
    guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
    grip = grip_for(Chord.parse("F/G"), guitar, (3, -1, 3, 2, 1, 1))
    assert category_named("Bb/C") == Entry(grip, NOW).facts.category == category_named("/+9")


@pytest.mark.parametrize(
    "text", ["2026-01-05T20:00:00", "2026-01-05", "20:00Z", "yesterday", "", "2026-13-01T00:00Z"]
)
def test_moment_without_a_zone_or_a_meaning_is_refused(text: str) -> None:
    """RFC 3339 has the offset, and so has every moment here."""
    with pytest.raises(ConditionError, match="time zone"):
        moment_of(text)
