"""The description of the service, its committed copy, and the page that shows it."""

import html.parser
import json
import re
from typing import Any

import jsonschema
import pytest
from openapi_spec_validator import OpenAPIV31SpecValidator

from gripwright_server.http.committed import COMMITTED, committed_text
from gripwright_server.http.docs import docs_page
from gripwright_server.http.routes import path_of
from gripwright_server.operations import OPERATIONS, Operation
from tests.server.http.client import Answer, Client

every_operation = pytest.mark.parametrize(
    "operation", OPERATIONS, ids=[operation.name for operation in OPERATIONS]
)
EXAMPLES: dict[str, dict[str, Any]] = {
    "chart": {"chart": "| Dm7 G7 | Cmaj7 |"},
    "drill": {"chart": "| Dm7 G7 | Cmaj7 |", "candidates": 50},
    "explain": {"symbol": "Cmaj7", "shape": "x-3-5-3-5-x"},
    "lead": {"chart": "| Dm7 G7 | Cmaj7 |"},
    "name": {"notes": "C E G B"},
    "spell": {"symbol": ["C#7", "G7/B"]},
    "strategies": {"chord": "G7"},
    "study": {"symbol": "Dm7", "candidates": 50},
    "voicings": {"symbol": "Cmaj7", "limit": 20},
}
"""A request for each operation that needs something."""


def test_committed_copy_is_the_description() -> None:
    """``python -m gripwright_server.http.committed`` makes it anew."""
    assert COMMITTED.read_text(encoding="ascii") == committed_text()


def test_description_is_served(client: Client) -> None:
    """As it is committed, with a tag."""
    response = client.get("/v1/openapi.json")
    assert response.json == json.loads(COMMITTED.read_text(encoding="ascii"))
    tag = response.headers["ETag"]
    assert client.get("/v1/openapi.json", headers={"If-None-Match": tag}).status_code == 304


def test_description_is_openapi(client: Client) -> None:
    """Judged by openapi-spec-validator (OpenAPI 3.1)."""
    OpenAPIV31SpecValidator(client.get("/v1/openapi.json").json).validate()


def _answer(client: Client, operation: Operation) -> Answer:
    asked = EXAMPLES.get(operation.name, {})
    path = path_of(operation)
    methods = client.get("/v1/openapi.json").json["paths"][path]
    if "post" in methods:
        return client.post(path, json=asked)
    return client.get(path, query_string=asked)


@every_operation
def test_answers_satisfy_their_schemas(client: Client, operation: Operation) -> None:
    """Judged by jsonschema, another library than the one that judges requests."""
    document = client.get("/v1/openapi.json").json
    methods = document["paths"][path_of(operation)]
    described = methods.get("post") or methods["get"]
    content = described["responses"]["200"]["content"]
    if "application/json" not in content:
        assert operation.scored
        return
    schema = content["application/json"]["schema"]
    answer = _answer(client, operation).json
    jsonschema.validate(
        answer, {**schema, "components": document["components"]}, jsonschema.Draft202012Validator
    )
    assert answer[operation.collection]


@every_operation
def test_every_member_of_a_row_is_described(client: Client, operation: Operation) -> None:
    """From the arguments of its class."""
    schemas = client.get("/v1/openapi.json").json["components"]["schemas"]
    row = schemas[operation.row.__name__]
    assert row["description"].startswith("A row: ")
    for name, member in row["properties"].items():
        assert member.get("description"), name


@every_operation
def test_every_form_is_described(client: Client, operation: Operation) -> None:
    """And each that is described is given."""
    document = client.get("/v1/openapi.json").json
    methods = document["paths"][path_of(operation)]
    described = methods.get("post") or methods["get"]
    asked = EXAMPLES.get(operation.name, {})
    for media_type in set(described["responses"]["200"]["content"]) - {"*/*"}:
        headers = {"Accept": media_type}
        if "post" in methods:
            response = client.post(path_of(operation), json=asked, headers=headers)
        else:
            response = client.get(path_of(operation), query_string=asked, headers=headers)
        assert (response.status_code, response.mimetype) == (200, media_type)


class _Page(html.parser.HTMLParser):
    """What a page links to, loads and names."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.ids: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep the tag and what it says."""
        self.tags.append(tag)
        for name, value in attrs:
            assert name not in {"src", "srcset", "style", "onclick", "onload"}
            if name == "href":
                self.links.append(value or "")
            if name == "id":
                self.ids.append(value or "")


def test_page_shows_every_operation_and_every_field(client: Client) -> None:
    """What the description has stands on the page."""
    page = client.get("/v1/docs").text
    for operation in OPERATIONS:
        assert f'id="{operation.name}"' in page
        assert path_of(operation) in page
    assert "How far apart along the neck the fretted notes may lie." in page


def test_page_loads_nothing_from_elsewhere(client: Client) -> None:
    """No script, no style sheet, no picture, no font; and the policy forbids them."""
    response = client.get("/v1/docs")
    page = _Page(response.text)
    assert not {"script", "link", "img", "iframe", "object", "form"} & set(page.tags)
    assert all(link.startswith(("#", "/v1/")) for link in page.links)
    assert "url(" not in response.text
    assert "@import" not in response.text
    policy = response.headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policy


def test_links_of_the_page_lead_somewhere(client: Client) -> None:
    """Every anchor is on it, once."""
    page = _Page(client.get("/v1/docs").text)
    anchors = [link[1:] for link in page.links if link.startswith("#")]
    assert anchors
    assert set(anchors) <= set(page.ids)
    assert len(page.ids) == len(set(page.ids))


def test_text_of_the_description_is_not_markup() -> None:
    """Whatever a help text holds."""
    document = json.loads(COMMITTED.read_text(encoding="ascii"))
    document["paths"]["/v1/spell"]["get"]["summary"] = "<script>alert(1)</script>"
    page, _ = docs_page(document)
    assert b"<script" not in page
    assert re.search(rb"&lt;script&gt;", page)
