"""Laws that every operation keeps, so that a surface can be made from it alone."""

import importlib
import json
from typing import Any

import attrs
import click
import jsonschema_rs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright.errors import GripwrightError
from gripwright_server.cli.command import OperationCommand
from gripwright_server.operations import (
    LOCAL_OPERATIONS,
    OPERATIONS,
    Operation,
    request_fields,
    request_schema,
)

EVERY = (*OPERATIONS, *LOCAL_OPERATIONS)
every_operation = pytest.mark.parametrize(
    "operation", EVERY, ids=[operation.name for operation in EVERY]
)


def test_operations_are_sorted_and_named_once() -> None:
    """The order of the list is that of the names."""
    names = [operation.name for operation in OPERATIONS]
    assert names == sorted(set(names))


@every_operation
def test_every_attribute_of_a_request_is_declared(operation: Operation) -> None:
    """No field of a request escapes the declarations, hence the surfaces."""
    declared = {field.name for field in request_fields(operation.request)}
    assert declared == {attribute.name for attribute in attrs.fields(operation.request)}


@every_operation
def test_every_field_has_an_option_and_stands_in_the_help(operation: Operation) -> None:
    """The command line offers every field under its own name with dashes."""
    command = OperationCommand(operation)
    parameters = {str(parameter.name): parameter for parameter in command.params}
    text = command.get_help(click.Context(command))
    for field in request_fields(operation.request):
        parameter = parameters[field.name]
        if field.option.positional:
            assert isinstance(parameter, click.Argument)
            assert str(field.option.form) in text
        else:
            assert f"--{field.name.replace('_', '-')}" in parameter.opts
            assert f"--{field.name.replace('_', '-')}" in text


@every_operation
def test_every_field_stands_under_a_heading(operation: Operation) -> None:
    """Help has no group without a name."""
    assert all(field.heading for field in request_fields(operation.request))


@every_operation
def test_every_field_says_what_it_does(operation: Operation) -> None:
    """Help is a phrase: it starts small and has no full stop."""
    for field in request_fields(operation.request):
        help_text = field.option.help
        assert help_text
        assert not help_text.endswith(".")
        assert help_text[0].islower() or help_text[0].isdigit()


@every_operation
def test_schema_is_a_schema(operation: Operation) -> None:
    """The schema of a request is valid under the dialect that it names."""
    schema = request_schema(operation.request)
    assert jsonschema_rs.meta.is_valid(schema)
    assert schema["properties"].keys() == set(attrs.fields_dict(operation.request))


@every_operation
def test_defaults_satisfy_the_schema(operation: Operation) -> None:
    """What is assumed where nothing is said is itself allowed."""
    schema = request_schema(operation.request)
    for name, value in schema["properties"].items():
        if "default" in value:
            assert jsonschema_rs.is_valid(value, value["default"]), name


@every_operation
def test_every_operation_has_a_table_and_a_row(operation: Operation) -> None:
    """A person can read every answer, and the rows are flat attrs values."""
    module = importlib.import_module(f"gripwright_server.cli.table.{operation.name}")
    assert callable(module.lines)
    assert attrs.has(operation.row)
    # The JSON of a score is that of its exporter, which reads back.
    assert {"json", "ndjson"} <= {*operation.formats, *(["json"] if operation.scored else [])}


def _values() -> st.SearchStrategy[Any]:
    """Values as they come from JSON, near the ranges and far from them."""
    return st.one_of(
        st.none(),
        st.booleans(),
        st.integers(-5, 60),
        st.floats(-10, 3000, allow_nan=False).filter(lambda value: value != int(value)),
        st.sampled_from(["any", "strum", "teaching", "required", "E4", ""]),
        st.lists(st.integers(0, 14), max_size=4),
        st.lists(st.sampled_from(["C", "Dm7"]), max_size=3),
    )


@every_operation
@given(data=st.data())
def test_validator_and_schema_agree(operation: Operation, data: st.DataObject) -> None:
    """A value passes the validator of a field exactly if it satisfies the field's schema."""
    fields = [field for field in request_fields(operation.request) if not field.required]
    if not fields:
        return
    required: dict[str, Any] = {
        field.name: ("C",) if field.many else "C"
        for field in request_fields(operation.request)
        if field.required
    }
    field = data.draw(st.sampled_from(fields))
    value = data.draw(_values())
    schema = request_schema(operation.request)
    satisfied = jsonschema_rs.is_valid(
        schema, json.loads(json.dumps({**required, field.name: value}))
    )
    given_value = tuple(value) if isinstance(value, list) else value
    try:
        operation.request(**{**required, field.name: given_value})
    except GripwrightError:
        accepted = False
    else:
        accepted = True
    assert accepted == satisfied
