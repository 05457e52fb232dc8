"""Entity tags, what they change with, and what they spare."""

from typing import Any

import attrs
import pytest

from gripwright import Registry
from gripwright_server.http import create_app
from gripwright_server.http.fingerprint import fingerprint
from gripwright_server.operations import RegistrySource, Result
from gripwright_server.operations.spell import SPELL
from gripwright_server.operations.voicings import VOICINGS
from tests.server.http.client import Client, client_of
from tests.server.http.conftest import REGISTRY, registry

PATH = "/v1/spell?symbol=C%237"
ASKED = {"symbol": "Cmaj7", "limit": 5}


def test_same_request_has_the_same_tag_everywhere(client: Client) -> None:
    """In every process, however the request is written."""
    other = client_of(create_app(registry=registry))
    tag = client.get(PATH).headers["ETag"]
    assert other.get(PATH).headers["ETag"] == tag
    assert other.get("/v1/spell?literal=false&symbol=%43%237").headers["ETag"] == tag


def test_equal_numbers_make_equal_requests(client: Client) -> None:
    """100 and 100.0 mm are one reach, and defaults need not be said."""
    spoken: list[dict[str, Any]] = [
        {"reach_mm": 115},
        {"reach_mm": 115.0},
        {},
        {"fingers": 4.0, "capo": 0},
    ]
    answers = [client.post("/v1/voicings", json={**ASKED, **more}) for more in spoken]
    assert len({answer.headers["ETag"] for answer in answers}) == 1
    assert len({answer.data for answer in answers}) == 1


@pytest.mark.parametrize("more", [{"reach_mm": 114.9}, {"limit": 6}, {"no_open": True}])
def test_other_requests_have_other_tags(client: Client, more: dict[str, Any]) -> None:
    """Whatever could change a byte of the answer."""
    one = client.post("/v1/voicings", json=ASKED).headers["ETag"]
    assert client.post("/v1/voicings", json={**ASKED, **more}).headers["ETag"] != one


def test_nothing_is_worked_out_for_who_has_it() -> None:
    """304 before computing: the operation is not called."""
    calls = []

    def counted(request: object, source: RegistrySource) -> Result:
        calls.append(request)
        return SPELL.function(request, source)

    operations = [attrs.evolve(SPELL, function=counted)]
    tag = client_of(create_app(registry=registry)).get(PATH).headers["ETag"]
    fresh = client_of(create_app(operations=operations, registry=registry))
    response = fresh.get(PATH, headers={"If-None-Match": f'"other", {tag}'})
    assert (response.status_code, response.data) == (304, b"")
    assert response.headers["ETag"] == tag
    assert response.headers["Cache-Control"] == "public, max-age=3600"
    assert "Content-Type" not in response.headers
    assert not calls
    assert fresh.get(PATH, headers={"If-None-Match": '"other"'}).status_code == 200
    assert len(calls) == 1


def test_search_can_be_asked_again_without_searching() -> None:
    """A POST tells where a GET gives the same; that GET has the condition."""
    calls = []

    def counted(request: object, source: RegistrySource) -> Result:
        calls.append(request)
        return VOICINGS.function(request, source)

    first = client_of(create_app(registry=registry)).post("/v1/voicings", json=ASKED)
    operations = [attrs.evolve(VOICINGS, function=counted)]
    fresh = client_of(create_app(operations=operations, registry=registry))
    condition = {"If-None-Match": first.headers["ETag"]}
    assert fresh.get(first.headers["Content-Location"], headers=condition).status_code == 304
    assert not calls
    again = fresh.get(first.headers["Content-Location"])
    assert (again.data, again.headers["ETag"]) == (first.data, first.headers["ETag"])


def test_condition_of_a_post_fails_as_the_rfc_has_it(client: Client) -> None:
    """RFC 9110, section 13.1.2: 304 is for GET and HEAD; any other method is answered by 412."""
    tag = client.post("/v1/voicings", json=ASKED).headers["ETag"]
    response = client.post("/v1/voicings", json=ASKED, headers={"If-None-Match": tag})
    assert response.status_code == 412
    assert response.headers["Content-Location"].startswith("/v1/voicings?cursor=")


def test_head_has_the_headers_of_get(client: Client) -> None:
    """And no body."""
    head = client.head(PATH)
    assert (head.status_code, head.data) == (200, b"")
    assert head.headers["ETag"] == client.get(PATH).headers["ETag"]


def test_what_tells_of_the_service_is_asked_again(client: Client) -> None:
    """Theory may be kept by anyone; the list of plugins is not theory."""
    assert client.get("/v1/instruments").headers["Cache-Control"] == "public, max-age=3600"
    assert client.get("/v1/plugins").headers["Cache-Control"] == "no-cache"
    assert client.post("/v1/voicings", json=ASKED).headers["Cache-Control"] == "no-cache"
    assert client.get("/v1/spell?symbol=Q").headers["Cache-Control"] == "no-store"


def _with(**changes: Any) -> Registry:
    return attrs.evolve(REGISTRY, **changes)


def test_fingerprint_changes_with_plugins_and_their_data() -> None:
    """Another version, one that is off, a string tuned otherwise, a strategy more."""
    first, *others = REGISTRY.plugins
    guitar = REGISTRY.instruments["guitar"]
    changed = [
        _with(plugins=(attrs.evolve(first, version="9.9"), *others)),
        _with(plugins=(attrs.evolve(first, enabled=False), *others)),
        _with(instruments={**REGISTRY.instruments, "guitar": attrs.evolve(guitar, frets=21)}),
        _with(strategies={**REGISTRY.strategies, "more": REGISTRY.strategies["any"]}),
    ]
    prints = [fingerprint(REGISTRY), *map(fingerprint, changed)]
    assert len(set(prints)) == len(prints)
    assert fingerprint(_with()) == prints[0]


def test_any_tag_needs_an_answer(client: Client) -> None:
    """RFC 9110, section 13.1.2: the asterisk is for any current answer, and here there is none."""
    star = {"If-None-Match": "*"}
    assert client.get("/v1/spell?symbol=C", headers=star).status_code == 304
    assert client.get("/v1/spell?symbol=Cmaj77", headers=star).status_code == 422
