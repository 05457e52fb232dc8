"""Pages, their cursors and their links."""

import base64
import json
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

# An independent reader of Link headers (RFC 8288).
from requests.utils import parse_header_links

from gripwright import Chord, find_voicings, ranking
from gripwright_server.http import create_app
from gripwright_server.http.cursor import Cursor
from gripwright_server.http.link import Link
from gripwright_server.http.problem import ProblemError
from tests.server.http.client import Answer, Client, client_of
from tests.server.http.conftest import REGISTRY, registry

ASKED = {"symbol": "Cmaj7", "strategy": "drop-2"}


def _links(response: Answer) -> dict[str, str]:
    found = parse_header_links(response.headers.get("Link", ""))
    return {link["rel"]: link["url"] for link in found if "rel" in link}


def test_page_has_a_hundred_rows(client: Client) -> None:
    """Where the request says nothing; and it says so in what it echoes."""
    document = client.post("/v1/voicings", json={"symbol": "Cmaj7"}).json
    assert document["returned"] == len(document["voicings"]) == 100
    assert document["count"] > 100
    assert document["request"]["limit"] == 100


def test_links_lead_through_all_rows_once(client: Client) -> None:
    """Following next from the first page gives the library's own list, in its order."""
    response = client.post("/v1/voicings", json={**ASKED, "limit": 40})
    rows = list(response.json["voicings"])
    while "next" in _links(response):
        assert response.json["next"] == _links(response)["next"]
        response = client.get(_links(response)["next"])
        assert response.status_code == 200
        rows += response.json["voicings"]
    assert response.json["next"] is None
    table = find_voicings(
        Chord.parse("Cmaj7"), REGISTRY.instruments["guitar"], strategy=REGISTRY.strategies["drop-2"]
    ).order_by(ranking.teaching)
    assert [row["id"] for row in rows] == [voicing.id for voicing in table]


def test_pages_can_be_gone_back(client: Client) -> None:
    """The page before the second is the first, to the byte."""
    first = client.post("/v1/voicings", json={**ASKED, "limit": 40})
    second = client.get(_links(first)["next"])
    again = client.get(_links(second)["prev"])
    assert again.data == first.data == client.get(_links(second)["first"]).data
    assert first.headers["Content-Location"] == _links(second)["first"]


def test_any_process_can_give_a_page(client: Client) -> None:
    """A cursor holds its request: no process need have seen it before."""
    address = client.post("/v1/voicings", json={**ASKED, "limit": 10}).json["next"]
    other = client_of(create_app(registry=registry))
    assert other.get(address).data == client.get(address).data


@pytest.mark.parametrize("limit", [0, -1, 1001, 10**40, "100", None, 1.5])
def test_length_of_a_page_is_bounded(client: Client, limit: object) -> None:
    """From 1 to 1,000."""
    response = client.post("/v1/voicings", json={**ASKED, "limit": limit})
    assert response.status_code == 422
    fault = response.json["errors"][0]
    assert (fault["pointer"], fault["expected"]) == ("#/limit", "a whole number, 1 to 1000")


def test_longest_page(client: Client) -> None:
    """A thousand rows are given."""
    assert client.post("/v1/voicings", json={"symbol": "C", "limit": 1000}).json["returned"] == 1000


def test_chosen_rows_are_one_page(client: Client) -> None:
    """Where the limit chooses those that differ most, there is nothing to turn to."""
    response = client.post("/v1/voicings", json={"symbol": "C", "limit": 7, "diverse": True})
    assert response.json["returned"] == 7
    assert "Link" not in response.headers
    assert response.json["next"] is None


def test_names_come_in_pages_too(client: Client) -> None:
    """A list asked by GET has links of the same form."""
    response = client.get("/v1/name?notes=C%20E%20G%20B&limit=3")
    second = client.get(_links(response)["next"]).json
    every = client.get("/v1/name?notes=C%20E%20G%20B&limit=1000").json["names"]
    assert response.json["names"] + second["names"] == every[:6]


@given(text=st.text(max_size=60) | st.from_regex(r"[A-Za-z0-9_-]{0,80}", fullmatch=True))
def test_cursors_that_are_none_are_refused(text: str) -> None:
    """Whatever stands there, it is refused and nothing breaks."""
    with pytest.raises(ProblemError) as caught:
        Cursor.parse(text, "v")
    assert caught.value.problem.status == 422


@given(
    start=st.integers(0, 10**9),
    request=st.dictionaries(st.text(), st.text() | st.integers() | st.booleans()),
)
def test_cursors_read_back(start: int, request: dict[str, object]) -> None:
    """What was put in comes out."""
    cursor = Cursor("v", start, request)
    assert Cursor.parse(str(cursor), "v") == cursor


def _forged(client: Client, start: object, request: object) -> Answer:
    address = client.post("/v1/voicings", json={**ASKED, "limit": 10}).json["next"]
    text = address.partition("=")[2]
    version = json.loads(zlib.decompress(base64.urlsafe_b64decode(text + "===")))[0]
    packed = zlib.compress(json.dumps([version, start, request]).encode())
    return client.get(f"/v1/voicings?cursor={base64.urlsafe_b64encode(packed).decode()}")


def test_forged_cursor_is_judged_like_a_request(client: Client) -> None:
    """It can ask for nothing that a request cannot."""
    assert _forged(client, 0, {"symbol": "C", "limit": 3}).status_code == 200
    assert _forged(client, 0, {"symbol": "C", "limit": 10**6}).status_code == 422
    assert _forged(client, 0, {"symbol": "C", "fingers": 99}).status_code == 422
    assert _forged(client, 10**9, {"symbol": "C"}).status_code == 422
    assert _forged(client, -1, {"symbol": "C"}).status_code == 422
    assert _forged(client, 0, [1]).status_code == 422


def test_cursor_that_unpacks_to_much_is_refused() -> None:
    """A small text may not become a large one."""
    bomb = base64.urlsafe_b64encode(zlib.compress(b'["v",0,{"a":"' + b"x" * 10**7 + b'"}]'))
    with pytest.raises(ProblemError):
        Cursor.parse(bomb.decode(), "v")


def test_cursor_of_another_version_is_told_so(client: Client) -> None:
    """After an upgrade the order may differ, so pages may not be mixed."""
    response = client.get(f"/v1/voicings?cursor={Cursor('older', 100, {'symbol': 'C'})}")
    assert response.status_code == 410
    assert response.json["type"] == "/v1/docs#problem-stale-cursor"


def test_cursor_stands_alone(client: Client) -> None:
    """It is the whole request."""
    address = client.post("/v1/voicings", json={**ASKED, "limit": 10}).json["next"]
    assert client.get(f"{address}&limit=3").status_code == 422
    assert client.post(address, json=ASKED).status_code == 422


def test_link_is_written_as_the_rfc_has_it() -> None:
    """The first two examples of RFC 8288, section 3.5."""
    first = Link("http://example.com/TheBook/chapter2", "previous", "previous chapter")
    assert str(first) == (
        '<http://example.com/TheBook/chapter2>; rel="previous"; title="previous chapter"'
    )
    assert str(Link("/", "http://example.net/foo")) == '</>; rel="http://example.net/foo"'
