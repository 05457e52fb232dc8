"""What is asked where, and by which method."""

from collections.abc import Iterator

import attrs
import pytest

from gripwright_server.http import create_app
from gripwright_server.http.routes import BY_GET, CURSOR, FORMAT
from gripwright_server.operations import OPERATIONS, Operation, Result, request_fields
from gripwright_server.operations.instruments import INSTRUMENTS
from tests.server.http.client import Client, client_of

every_operation = pytest.mark.parametrize(
    "operation", OPERATIONS, ids=[operation.name for operation in OPERATIONS]
)


@every_operation
def test_every_operation_has_a_route(client: Client, operation: Operation) -> None:
    """By GET where it names a thing, else by POST; the other method is told apart."""
    if operation.name in BY_GET:
        assert client.post(f"/v1/{operation.name}", json={}).status_code == 405
    else:
        assert client.post(f"/v1/{operation.name}", data="").status_code == 415
        refused = client.get(f"/v1/{operation.name}")
        assert refused.status_code == 422
        assert refused.json["errors"][0]["parameter"] == "cursor"


def test_table_of_methods_names_operations() -> None:
    """A name in the table that is none would do nothing."""
    assert {operation.name for operation in OPERATIONS} >= BY_GET


@every_operation
def test_no_field_is_called_like_a_parameter_of_the_surface(operation: Operation) -> None:
    """Format and cursor are the surface's own words."""
    names = {field.name for field in request_fields(operation.request)}
    assert not names & {CURSOR, FORMAT}


def test_symbol_stands_in_the_query(client: Client) -> None:
    """Several symbols, one parameter each, in their order."""
    rows = client.get("/v1/spell?symbol=C%237&symbol=G7%2FB").json["chords"]
    assert [(row["symbol"], row["bass"]) for row in rows] == [("C#7", None), ("G7/B", "B")]
    assert rows[0]["notes"] == ["C#", "E#", "G#", "B"]


def test_options_of_a_query_are_read_by_their_types(client: Client) -> None:
    """True and false, numbers and texts."""
    assert client.get("/v1/spell?symbol=B&german=true").json["chords"][0]["symbol"] == "Bb"
    found = client.get("/v1/name?notes=x-7-9-7-8-x&limit=2&capo=0").json
    assert found["returned"] == 2
    assert found["request"]["limit"] == 2


@pytest.mark.parametrize(
    ("query", "parameter", "says"),
    [
        ("symbol=C&literal=maybe", "literal", "true or false"),
        ("symbol=C&literal=true&literal=false", "literal", "more than once"),
        ("symbl=C", "symbl", "did you mean 'symbol'"),
        ("", "symbol", "missing"),
    ],
)
def test_faults_of_a_query_name_the_parameter(
    client: Client, query: str, parameter: str, says: str
) -> None:
    """Each with its place and what was expected."""
    response = client.get(f"/v1/spell?{query}")
    assert response.status_code == 422
    assert response.json["type"] == "/v1/docs#problem-invalid-request"
    faults = {fault.get("parameter"): fault["detail"] for fault in response.json["errors"]}
    assert says in faults[parameter]


@pytest.mark.parametrize("query", ["limit=2&notes=C%20E%20G", "notes=C+E+G&limit=2"])
def test_plus_is_a_space_where_no_plus_can_stand(client: Client, query: str) -> None:
    """Notes have spaces between them, however they are written."""
    assert client.get(f"/v1/name?{query}").json["returned"] == 2


def test_plus_in_a_symbol_gets_a_hint(client: Client) -> None:
    """``C+7`` must not be read as ``C 7``, which is another chord."""
    response = client.get("/v1/spell?symbol=C+7")
    assert response.status_code == 422
    assert "%2B" in response.json["errors"][0]["detail"]
    assert client.get("/v1/spell?symbol=C%2B7").json["chords"][0]["degrees"] == [
        "1",
        "3",
        "#5",
        "b7",
    ]


@pytest.mark.parametrize("number", ["1_0", "+3", " 3", "3.0", "0x3", "1e1", "\uff13", "9" * 200])
def test_numbers_of_a_query_are_those_of_json(client: Client, number: str) -> None:
    """What Python reads beyond that is refused."""
    response = client.get("/v1/name", query_string={"notes": "C E G", "limit": number})
    assert response.status_code == 422
    assert response.json["errors"][0]["parameter"] == "limit"


def test_paths_that_are_none(client: Client) -> None:
    """A problem too, with the headers of every answer."""
    response = client.get("/v1/nothing")
    assert response.status_code == 404
    assert response.content_type == "application/problem+json"
    assert response.headers["X-Content-Type-Options"] == "nosniff"


def test_health(client: Client) -> None:
    """It is never kept."""
    response = client.get("/healthz")
    assert (response.status_code, response.json) == (200, {"status": "ok"})
    assert response.headers["Cache-Control"] == "no-store"


def test_root_leads_to_the_documentation(client: Client) -> None:
    """A new user opens the address that the server tells."""
    response = client.get("/")
    assert (response.status_code, response.headers["Location"]) == (302, "/v1/docs")


def test_failure_of_ours_is_a_problem_without_its_inside() -> None:
    """No trace of the program in the answer."""

    def breaks(request: object, registry: object) -> Result:
        del request, registry
        raise RuntimeError("secret /home/inside")

    operation = attrs.evolve(INSTRUMENTS, function=breaks)
    response = client_of(create_app(operations=[operation])).get("/v1/instruments")
    assert response.status_code == 500
    assert b"secret" not in response.data
    assert response.json["type"] == "/v1/docs#problem-internal-error"


@pytest.fixture(autouse=True)
def _quiet(caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    """The failure above is logged; the log of the tests stays clean."""
    with caplog.at_level("CRITICAL", logger="gripwright_server.http.app"):
        yield
