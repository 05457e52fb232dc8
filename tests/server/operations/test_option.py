"""The declarations of request fields: what they check and what they tell."""

import pickle

import attrs
import pytest

from gripwright.errors import ConditionError, UnknownNameError
from gripwright_server.operations import option, request_fields
from gripwright_server.operations.option import Option


@attrs.frozen(kw_only=True)
class Sample:
    """A request with a field of every kind."""

    name: str = option(help="a name", positional=True)
    stroke: str = option(help="a stroke", default="any", choices=("any", "strum"))
    fingers: int = option(help="fingers", default=4, ge=1, le=4)
    reach_mm: float | None = option(help="reach", default=None, ge=0, le=400, unit="mm")
    strings: tuple[int, ...] | None = option(help="strings", default=None, ge=1, le=12)
    flat: bool = option(help="flat", default=False)


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ({"fingers": 0}, "fingers cannot be 0: expected a whole number, 1 to 4"),
        ({"fingers": 5}, "fingers cannot be 5: expected a whole number, 1 to 4"),
        ({"fingers": True}, "fingers cannot be True"),
        ({"fingers": 2.0}, "fingers cannot be 2.0"),
        ({"fingers": None}, "fingers cannot be None"),
        ({"reach_mm": -0.1}, "reach_mm cannot be -0.1: expected a number, 0 to 400 mm"),
        ({"reach_mm": float("nan")}, "reach_mm cannot be nan"),
        ({"reach_mm": "90"}, "reach_mm cannot be '90'"),
        ({"strings": ()}, r"strings cannot be \(\)"),
        ({"strings": (1, 13)}, "one or more, each a whole number, 1 to 12"),
        ({"strings": 5}, "strings cannot be 5"),
        ({"flat": 1}, "flat cannot be 1: expected true or false"),
        ({"name": 3}, "name cannot be 3: expected text"),
    ],
)
def test_value_outside_the_declaration_is_refused_with_what_is_expected(
    values: dict[str, object], message: str
) -> None:
    """Type, range and number of values are all checked, and the error says what is taken."""
    with pytest.raises(ConditionError, match=message):
        Sample(**{"name": "x", **values})  # type: ignore[arg-type]


def test_values_at_the_ends_of_a_range_are_taken() -> None:
    """Both ends belong to the range, and a whole number serves as a number."""
    request = Sample(name="x", fingers=4, reach_mm=400, strings=(1, 12), flat=True)
    assert (request.fingers, request.reach_mm, request.strings) == (4, 400, (1, 12))
    assert Sample(name="x", fingers=1, reach_mm=0.0).fingers == 1


def test_unknown_choice_names_the_nearest() -> None:
    """A misspelt choice is told what it may have meant and what there is, also after pickling."""
    with pytest.raises(UnknownNameError) as caught:
        Sample(name="x", stroke="strumm")
    error = pickle.loads(pickle.dumps(caught.value))
    assert error.nearest == ("strum",)
    assert str(error) == ("unknown stroke 'strumm' (did you mean 'strum'?): known are any, strum")


def test_fields_tell_type_default_and_heading() -> None:
    """A surface reads everything it needs back from the class."""
    fields = {field.name: field for field in request_fields(Sample)}
    assert list(fields) == ["name", "stroke", "fingers", "reach_mm", "strings", "flat"]
    assert fields["name"].required
    assert not fields["fingers"].required
    assert (fields["strings"].base, fields["strings"].many, fields["strings"].optional) == (
        int,
        True,
        True,
    )
    assert fields["reach_mm"].base is float


def test_field_of_a_type_that_no_surface_knows_is_refused() -> None:
    """A request holds texts, numbers and flags alone."""

    @attrs.frozen(kw_only=True)
    class Nested:
        inner: bytes = option(help="a picture", default=None)

    with pytest.raises(TypeError, match="'inner'"):
        request_fields(Nested)


@pytest.mark.parametrize(
    ("declared", "words"),
    [
        (Option(help="", ge=1), "1 or more"),
        (Option(help="", le=9, unit="mm"), "9 mm or less"),
        (Option(help="", ge=1, le=5), "1 to 5"),
        (Option(help=""), ""),
    ],
)
def test_range_in_words(declared: Option, words: str) -> None:
    """A range open at one end says so."""
    assert declared.range == words
