"""Problems: their form, and every fault with its place."""

import json
from typing import Any

import jsonschema
import pytest

from gripwright.errors import GripwrightError
from gripwright_server.cli.failure import EXIT_CODES
from gripwright_server.http.failure import KIND_OF
from gripwright_server.http.kinds import KINDS
from gripwright_server.http.problem import Fault, Problem
from gripwright_server.http.validation import pointer_of
from tests.server.http.client import Answer, Client


def test_problem_is_written_as_the_rfc_has_it() -> None:
    """The second example of RFC 9457, section 3: a request that is not valid."""
    example = """
    {
     "type": "https://example.net/validation-error",
     "title": "Your request is not valid.",
     "errors": [
                 {
                   "detail": "must be a positive integer",
                   "pointer": "#/age"
                 },
                 {
                   "detail": "must be 'green', 'red' or 'blue'",
                   "pointer": "#/profile/color"
                 }
              ]
    }
    """
    problem = Problem(
        type="https://example.net/validation-error",
        title="Your request is not valid.",
        errors=(
            Fault(detail="must be a positive integer", pointer=pointer_of("age")),
            Fault(
                detail="must be 'green', 'red' or 'blue'", pointer=pointer_of("profile", "color")
            ),
        ),
    )
    assert json.loads(problem.body()) == json.loads(example)


def test_extension_members_stand_beside_the_others() -> None:
    """The first example of RFC 9457, section 3: an account without credit."""
    problem = Problem(
        type="https://example.com/probs/out-of-credit",
        title="You do not have enough credit.",
        detail="Your current balance is 30, but that costs 50.",
        extra={
            "instance": "/account/12345/msgs/abc",
            "balance": 30,
            "accounts": ["/account/12345", "/account/67890"],
        },
    )
    assert json.loads(problem.body()) == {
        "type": "https://example.com/probs/out-of-credit",
        "title": "You do not have enough credit.",
        "detail": "Your current balance is 30, but that costs 50.",
        "instance": "/account/12345/msgs/abc",
        "balance": 30,
        "accounts": ["/account/12345", "/account/67890"],
    }


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ((), "#"),
        (("foo", 0), "#/foo/0"),
        (("a/b",), "#/a~1b"),
        (("m~n",), "#/m~0n"),
        (("c%d",), "#/c%25d"),
        (("e^f",), "#/e%5Ef"),
        (('k"l',), "#/k%22l"),
        ((" ",), "#/%20"),
    ],
)
def test_pointers_are_those_of_the_rfc(path: tuple[str | int, ...], expected: str) -> None:
    """RFC 6901, section 6, gives these as fragments of URIs."""
    assert pointer_of(*path) == expected


def test_every_kind_is_told_apart_and_documented(client: Client) -> None:
    """A type leads to its place in the documentation."""
    page = client.get("/v1/docs").text
    assert len({kind.type for kind in KINDS}) == len(KINDS)
    for kind in KINDS:
        assert f'id="{kind.type.partition("#")[2]}"' in page


def test_every_error_that_ends_a_command_has_a_kind() -> None:
    """What the command line tells apart, this surface does too."""
    kinds = [type_ for type_, _ in KIND_OF]
    own = [type_ for type_, _ in EXIT_CODES if issubclass(type_, GripwrightError)]
    assert all(any(issubclass(one, kind) for kind in kinds) for one in own)


def _faults(response: Answer) -> dict[str, dict[str, Any]]:
    assert response.content_type == "application/problem+json"
    schema = response.json
    assert schema["status"] == response.status_code
    return {fault["pointer"]: fault for fault in response.json["errors"]}


def test_every_fault_of_the_schema_is_told_at_once(client: Client) -> None:
    """Unknown, missing, out of range, of another type, none of the choices, one of many."""
    asked = {
        "symbl": "C",
        "fingers": 9,
        "reach_mm": "far",
        "stroke": "strumm",
        "strings": [1, 99],
        "no_open": None,
    }
    response = client.post("/v1/voicings", json=asked)
    faults = _faults(response)
    assert response.status_code == 422
    assert faults.keys() == {
        "#/symbol",
        "#/symbl",
        "#/fingers",
        "#/reach_mm",
        "#/stroke",
        "#/strings/1",
        "#/no_open",
    }
    assert faults["#/symbl"]["nearest"][0] == "symbol"
    assert faults["#/fingers"]["expected"] == "a whole number, 1 to 5"
    assert faults["#/reach_mm"]["expected"] == "a number, 0 to 1000 mm"
    assert faults["#/stroke"]["nearest"] == ["strum"]


def test_unknown_symbol_has_its_position(client: Client) -> None:
    """And the nearest symbol that can be read."""
    response = client.post("/v1/voicings", json={"symbol": "Cmaj77"})
    assert response.status_code == 422
    fault = _faults(response)["#/symbol"]
    assert (fault["position"], fault["nearest"]) == (5, ["Cmaj7"])


def test_every_symbol_that_cannot_be_read_is_told(client: Client) -> None:
    """Not only the first, at which the operation stops."""
    response = client.get("/v1/spell?symbol=C&symbol=Qm&symbol=G7&symbol=Cmaj77")
    faults = _faults(response)
    assert faults.keys() == {"#/symbols/1", "#/symbols/3"}
    assert faults["#/symbols/3"]["parameter"] == "symbol"


def test_every_text_that_cannot_be_read_is_told(client: Client) -> None:
    """Symbol, instrument, strategy and note at once, each with what is near."""
    asked = {"symbol": "Cmaj77", "instrument": "gitar", "strategy": "drop-22", "top_note": "Q"}
    faults = _faults(client.post("/v1/voicings", json=asked))
    assert faults.keys() == {"#/symbol", "#/instrument", "#/strategy", "#/top_note"}
    assert faults["#/instrument"]["nearest"] == ["guitar"]
    assert "drop-2" in faults["#/strategy"]["nearest"]


def test_every_fault_of_a_chart_has_line_and_column(client: Client) -> None:
    """As the command line marks them."""
    response = client.post("/v1/lead", json={"chart": "| Dm7 | Cmaj77 |\n| Q | C |"})
    assert response.status_code == 422
    places = [(fault["line"], fault["column"]) for fault in response.json["errors"]]
    assert places == [(1, 14), (2, 3)]
    assert {fault["pointer"] for fault in response.json["errors"]} == {"#/chart"}


def test_condition_that_cannot_hold_is_pointed_to(client: Client) -> None:
    """A string that the instrument does not have."""
    response = client.post("/v1/voicings", json={"symbol": "C", "strings": [9]})
    assert response.status_code == 422
    assert response.json["type"] == "/v1/docs#problem-impossible-condition"
    assert "#/strings" in _faults(response)


def test_nothing_found_points_to_what_emptied_it(client: Client) -> None:
    """With the reason in a sentence."""
    response = client.post("/v1/voicings", json={"symbol": "C", "strings": [6, 5]})
    assert response.json["type"] == "/v1/docs#problem-nothing-found"
    assert "2,842" in _faults(response)["#/strings"]["detail"]


def test_notes_without_a_name_have_their_intervals(client: Client) -> None:
    """A client can still say what they are."""
    response = client.get("/v1/name?notes=C%20C%23%20D%20D%23%20E")
    assert response.status_code == 422
    assert response.json["intervals"]


def test_chord_of_a_line_without_a_voicing_is_named(client: Client) -> None:
    """The bar and the chord."""
    response = client.post("/v1/lead", json={"chart": "| C | G13 |", "min_tones": 6})
    assert response.status_code == 422
    assert (response.json["chord"], response.json["bar"]) == ("C", 1)


def test_problems_satisfy_their_schema(client: Client) -> None:
    """The one that the description gives."""
    document = client.get("/v1/openapi.json").json
    schema = {"$ref": "#/components/schemas/Problem", "components": document["components"]}
    for response in (
        client.post("/v1/voicings", json={"symbol": "Cmaj77", "instrument": "gitar"}),
        client.post("/v1/voicings", json=[]),
        client.get("/v1/nothing"),
        client.get("/v1/name?notes=C%20C%23%20D%20D%23%20E"),
    ):
        jsonschema.validate(response.json, schema, jsonschema.Draft202012Validator)
