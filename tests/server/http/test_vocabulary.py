"""A vocabulary over HTTP: for its own machine alone, kept by nobody on the way."""

import json
import sqlite3
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from flask.testing import FlaskClient
from openapi_spec_validator import validate
from werkzeug.test import TestResponse

from gripwright_server.cli import ROOT
from gripwright_server.http import create_app
from gripwright_server.operations.vocabulary import VOCABULARY

NOW = datetime(2026, 1, 5, 20, tzinfo=UTC)
PREFIX = "/v1/vocabulary"


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Where the store of a test is."""
    return tmp_path / "grips.db"


@pytest.fixture
def client(store: Path) -> FlaskClient:
    """A client of a service with a vocabulary that has begun, with one grip."""
    client = create_app(store=store, clock=lambda: NOW).test_client()
    assert post(client, "begin", bare=True).status_code == 200
    assert post(client, "add", symbol="Cmaj7", frets="x-3-5-4-5-x").status_code == 200
    return client


def post(client: FlaskClient, name: str, **request: Any) -> TestResponse:
    """Ask an operation that writes."""
    return client.post(f"{PREFIX}/{name}", json=request)


def test_without_a_store_there_is_nothing() -> None:
    """The paths exist only where a store is given, in the description too."""
    client = create_app().test_client()
    assert client.get(f"{PREFIX}/list").status_code == 404
    paths = client.get("/v1/openapi.json").get_json()["paths"]
    assert not [path for path in paths if path.startswith(PREFIX)]


def test_every_operation_is_offered_and_described(client: FlaskClient) -> None:
    """The description is OpenAPI 3.1 (checked by openapi-spec-validator) and has every path."""
    document = client.get("/v1/openapi.json").get_json()
    validate(document)
    for operation in VOCABULARY:
        methods = document["paths"][f"{PREFIX}/{operation.name}"]
        assert list(methods) == ["post" if operation.writes else "get"]
        names = [parameter["name"] for parameter in next(iter(methods.values()))["parameters"]]
        assert "now" in names
        assert ("Idempotency-Key" in names) == (operation.name == "review")
    page = client.get("/v1/docs").text
    assert all(f"{PREFIX}/{operation.name}" in page for operation in VOCABULARY)


def test_answers_are_private_and_kept_by_nobody(client: FlaskClient) -> None:
    """No cache on the way holds what a player knows."""
    for name in ("list", "gaps?limit=1", "today", "export", "show?entry=24owmh"):
        answer = client.get(f"{PREFIX}/{name}")
        assert answer.status_code == 200, answer.text
        assert answer.headers["Cache-Control"] == "private, no-store"
        assert "ETag" not in answer.headers
    assert post(client, "profile").headers["Cache-Control"] == "private, no-store"
    assert client.get(f"{PREFIX}/show?entry=zzzzzz").headers["Cache-Control"] == "no-store"


def test_answer_is_that_of_the_command_line(client: FlaskClient, store: Path) -> None:
    """Both surfaces stand on one declaration: same rows, same facts."""
    for line in (("list",), ("gaps", "--limit", "2"), ("today",), ("show", "24owmh")):
        arguments = ["vocabulary", *line, "--store", str(store), "--format", "json"]
        shown = json.loads(CliRunner().invoke(ROOT, arguments, obj=lambda: NOW).stdout)
        query = {"gaps": "?limit=2", "show": "?entry=24owmh"}.get(line[0], "")
        answer = client.get(f"{PREFIX}/{line[0]}{query}").get_json()
        assert {name: answer[name] for name in shown} == shown


def test_review_needs_a_name_and_counts_once(client: FlaskClient) -> None:
    """A retry after a lost answer never counts twice."""
    nameless = post(client, "review", entry="24owmh", grade="in-time")
    assert nameless.status_code == 422
    assert nameless.get_json()["errors"][0]["pointer"] == "#/review_id"
    first = post(client, "review", entry="24owmh", grade="in-time", review_id="a")
    assert first.get_json()["reviews"][0]["new"] is True
    path, request = f"{PREFIX}/review", {"entry": "24owmh", "grade": "in-time"}
    for key in ("a", '"a"'):
        again = client.post(path, json=request, headers={"Idempotency-Key": key})
        assert again.get_json()["reviews"][0]["new"] is False
    assert len(client.get(f"{PREFIX}/show?entry=24owmh").get_json()["reviews"]) == 1


def test_the_day_is_that_of_the_player(client: FlaskClient) -> None:
    """A client in another time zone says what time it is there; naive moments are refused."""
    answer = client.get(f"{PREFIX}/today?now=2026-01-06T08:00:00%2B12:00").get_json()
    assert answer["day"] == "2026-01-06"
    naive = client.get(f"{PREFIX}/today?now=2026-01-06T08:00:00")
    assert naive.status_code == 422
    assert naive.get_json()["errors"][0]["parameter"] == "now"
    dated = post(client, "review", entry="24owmh", grade="looked", at="2026-01-05", review_id="b")
    assert dated.status_code == 422
    assert dated.get_json()["errors"][0]["pointer"] == "#/at"


def test_questioned_grip_points_to_its_field(client: FlaskClient) -> None:
    """What a grip could be instead is told as a problem (RFC 9457)."""
    answer = post(client, "add", symbol="Cmaj7", frets="x-3-5-3-5-x")
    problem = answer.get_json()
    assert answer.status_code == 422
    assert problem["type"].endswith("#problem-refused")
    assert problem["errors"][0]["pointer"] == "#/frets"
    assert "could be C7" in problem["errors"][0]["detail"]


def test_export_comes_back_by_import(client: FlaskClient, tmp_path: Path) -> None:
    """The document is the one of the command line; an import cut short takes nothing."""
    post(client, "review", entry="24owmh", grade="slowly", review_id="a")
    whole = client.get(f"{PREFIX}/export").text
    other = create_app(store=tmp_path / "other.db", clock=lambda: NOW).test_client()
    cut = post(other, "import", document=whole[: len(whole) // 2])
    assert cut.status_code == 422
    assert cut.get_json()["errors"][0]["pointer"] == "#/document"
    assert not (tmp_path / "other.db").exists()
    brought = post(other, "import", document=whole)
    assert brought.status_code == 200, brought.text
    assert "document" not in brought.get_json()["request"]
    assert other.get(f"{PREFIX}/export").text == whole


def test_only_this_machine_is_answered(client: FlaskClient) -> None:
    """Whoever asks from elsewhere is refused, whatever the server listens on."""
    for address in ("192.0.2.7", "2001:db8::7"):
        answer = client.get(f"{PREFIX}/list", environ_overrides={"REMOTE_ADDR": address})
        assert answer.status_code == 403
        assert answer.get_json()["type"].endswith("#problem-not-local")
    local = client.get(f"{PREFIX}/list", environ_overrides={"REMOTE_ADDR": "::1"})
    assert local.status_code == 200


@pytest.mark.parametrize(
    "beyond", [("--host", "192.0.2.1"), ("--trusted-host", "practice.example")], ids=" ".join
)
def test_serving_beyond_this_machine_is_refused(store: Path, beyond: tuple[str, str]) -> None:
    """The command will not serve a store to a network."""
    extra = () if beyond[0] == "--trusted-host" else ("--trusted-host", "practice.example")
    arguments = ["serve", "--store", str(store), *beyond, *extra, "--port", "0"]
    result = CliRunner().invoke(ROOT, arguments)
    assert result.exit_code == 2
    assert "to this machine alone" in result.stderr


def test_other_methods_and_forms_are_refused(client: FlaskClient) -> None:
    """What writes is no GET, and a page of another origin cannot post without asking."""
    assert client.get(f"{PREFIX}/add?symbol=C&frets=x-3-2-0-1-0").status_code == 405
    assert client.post(f"{PREFIX}/list", json={}).status_code == 405
    text = client.post(f"{PREFIX}/add", data="{}", content_type="text/plain")
    assert text.status_code == 415


def test_missing_newer_and_corrupt_stores_are_told(store: Path) -> None:
    """The problem names the fault; a store that is damaged is refused as the service starts."""
    client = create_app(store=store, clock=lambda: NOW).test_client()
    answer = client.get(f"{PREFIX}/list")
    assert answer.status_code == 500
    assert answer.get_json()["fault"] == "missing"
    assert post(client, "begin", bare=True).status_code == 200
    with sqlite3.connect(store) as connection:
        connection.execute("UPDATE about SET value = '99' WHERE name = 'schema'")
    answer = client.get(f"{PREFIX}/list")
    assert (answer.status_code, answer.get_json()["fault"]) == (500, "newer")
    with pytest.raises(OSError, match="update Gripwright"):
        create_app(store=store)
    store.write_bytes(b"no database" * 500)
    with pytest.raises(OSError, match="damaged"):
        create_app(store=store)


def test_busy_store_asks_to_try_again(
    client: FlaskClient, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While another program writes, nothing is lost: 503 with Retry-After."""
    monkeypatch.setattr("gripwright_server.store.sqlite.WAIT_SECONDS", 0)
    other = sqlite3.connect(store, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        answer = post(client, "review", entry="24owmh", grade="in-time", review_id="a")
    finally:
        other.execute("ROLLBACK")
        other.close()
    assert answer.status_code == 503
    assert answer.headers["Retry-After"]
    assert answer.get_json()["fault"] == "busy"
    again = post(client, "review", entry="24owmh", grade="in-time", review_id="a")
    assert again.get_json()["reviews"][0]["new"] is True


def test_book_and_plan_are_files(client: FlaskClient) -> None:
    """PDF for a printer, SVG for a screen, each with a name to save it by."""
    for name in ("book", "today"):
        answer = client.get(f"{PREFIX}/{name}?format=pdf")
        assert answer.data.startswith(b"%PDF-")
        assert answer.headers["Content-Disposition"].startswith(
            f'inline; filename="vocabulary-{name}'
        )
        assert client.get(f"{PREFIX}/{name}?format=svg").text.startswith("<svg")
