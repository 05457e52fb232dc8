"""Bad input and abuse: each line of the list that the surface must stand."""

import base64
import io
import json
import time
import zipfile
from concurrent.futures import ThreadPoolExecutor, as_completed
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from gripwright_server.http import create_app
from gripwright_server.http.encoding import UnreadableJSONError, decoded, encoded
from gripwright_server.http.settings import LARGEST_BODY, LONGEST_LIST, Settings
from tests.server.http.client import Answer, Client, client_of
from tests.server.http.conftest import registry
from tests.server.http.live import served

JSON = "application/json"
LEAD_SHEET = "application/vnd.recordare.musicxml+xml"
ONE_BAR = Path(__file__).parents[2] / "data" / "leadsheet-one-bar.musicxml"


def _post(client: Client, data: bytes, content_type: str = JSON, **more: Any) -> Answer:
    return client.post("/v1/chart", data=data, content_type=content_type, **more)


def _kind(response: Answer) -> str:
    assert response.content_type == "application/problem+json"
    return str(response.json["type"]).removeprefix("/v1/docs#problem-")


def test_body_of_one_mebibyte_is_read(client: Client) -> None:
    """A chart with a very long remark."""
    chart = json.dumps({"chart": "| C |"})
    assert _post(client, chart.ljust(LARGEST_BODY).encode()).status_code == 200


def test_larger_body_is_refused(client: Client) -> None:
    """One byte more."""
    response = _post(client, b" " * (LARGEST_BODY + 1))
    assert (response.status_code, _kind(response)) == (413, "too-large")


def test_chunked_body_is_refused(client: Client) -> None:
    """A chunked body that is cut must not pass for a whole one."""
    response = client.post(
        "/v1/chart",
        input_stream=io.BytesIO(b'{"chart": "| C |"}'),
        headers={"Transfer-Encoding": "chunked", "Content-Type": JSON},
        environ_overrides={"wsgi.input_terminated": True},
    )
    assert (response.status_code, _kind(response)) == (411, "length-required")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{",
        b"\xff\xfe",
        '{"chart": "caf\u00e9"}'.encode("latin-1"),
        '{"chart": "| C |"}'.encode("utf-16"),
        b"\xef\xbb\xbf{}",
        b'{"chart": NaN}',
        b'{"surcharge": Infinity}',
        b'{"surcharge": -Infinity}',
        b'{"surcharge": 1e999}',
        b'{"chart": "\\ud800"}',
        b'{"chart": "| C |", "chart": "| D |"}',
        b'{"chart": "| C |",}',
        b"{'chart': 1}",
        b"[" * 100_000,
        b'{"a":' * 100_000,
        b"[" * 100_000 + b"]" * 100_000,
        b"1" * 100_000,
        b'{"seed": ' + b"9" * 100_000 + b"}",
    ],
    ids=range(19),
)
def test_bodies_that_are_no_json_are_refused(client: Client, data: bytes) -> None:
    """Not UTF-8, NaN, a member twice, deep nesting, endless numbers."""
    response = _post(client, data)
    assert (response.status_code, _kind(response)) == (400, "unreadable-body")


@given(data=st.binary(max_size=200))
@example(b"NaN")
@example(b'"\\udfff"')
def test_what_is_read_can_be_written(data: bytes) -> None:
    """A strict reader takes nothing that the writer could not give back."""
    try:
        value = decoded(data)
    except UnreadableJSONError:
        return
    assert decoded(encoded(value)) == value
    assert encoded(value).isascii()


@pytest.mark.parametrize("value", ["text", 1, None, [], [{}], True])
def test_body_must_be_an_object(client: Client, value: object) -> None:
    """Any other JSON is no request."""
    response = _post(client, json.dumps(value).encode())
    assert (response.status_code, _kind(response)) == (422, "invalid-request")
    assert response.json["errors"][0]["pointer"] == "#"


@pytest.mark.parametrize(
    "content_type",
    [
        "",
        "text/html",
        "application/xml",
        "application/x-www-form-urlencoded",
        "multipart/form-data",
        "application/json; charset=latin-1",
        "application/json; charset=utf-16",
    ],
)
def test_wrong_media_type_is_refused(client: Client, content_type: str) -> None:
    """And told which are read. A page of a stranger cannot send JSON without asking first."""
    response = _post(client, b'{"chart": "| C |"}', content_type)
    assert (response.status_code, _kind(response)) == (415, "unsupported-media-type")


def test_media_types_that_are_read_are_told(client: Client) -> None:
    """RFC 9110, section 15.5.16: the header Accept of a 415."""
    assert client.post("/v1/voicings", data="x").headers["Accept"] == JSON
    assert LEAD_SHEET in client.post("/v1/chart", data="x").headers["Accept"]


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("capo", 99),
        ("capo", -1),
        ("capo", 10**400),
        ("by", 1.5),
        ("numerals", "yes"),
        ("theme", ["print"]),
        ("chart", {"a": [[[[1]]]]}),
        ("nothing", 1),
    ],
)
def test_values_out_of_range_are_refused(client: Client, field: str, value: object) -> None:
    """By the schema, with the field."""
    body = json.dumps({"form": "turnaround", "key": "C", field: value}).encode()
    response = _post(client, body)
    assert (response.status_code, _kind(response)) == (422, "invalid-request")
    assert response.json["errors"][0]["pointer"] == f"#/{field}"


@pytest.mark.parametrize("depth", [3, 100, 254, 256, 300, 900])
@pytest.mark.parametrize("field", ["strings", "fingers", "nothing"])
def test_nested_values_are_refused_at_any_depth(client: Client, field: str, depth: int) -> None:
    """Also between what a reader of JSON stands and what a validator stands."""
    value: object = 1
    for _ in range(depth):
        value = [value]
    for nested in (value, {"a": value}):
        response = client.post("/v1/voicings", json={"symbol": "C", field: nested})
        assert (response.status_code, _kind(response)) == (422, "invalid-request")
        assert response.json["errors"][0]["pointer"].startswith(f"#/{field}")
    assert client.post("/v1/voicings", json=value).status_code == 422


@pytest.mark.parametrize("item", [1, 99, "C", [1], {}])
def test_endless_lists_are_refused_at_once(client: Client, item: object) -> None:
    """A mebibyte of faults is not judged fault by fault, while others wait."""
    response = client.post("/v1/voicings", json={"symbol": "C", "strings": [item] * 120_000})
    assert (response.status_code, _kind(response)) == (422, "invalid-request")
    told = [one["detail"] for one in response.json["errors"]]
    assert f"expected at most {LONGEST_LIST} values" in told
    assert len(told) <= LONGEST_LIST


def test_number_beyond_64_bits_is_echoed(client: Client) -> None:
    """A seed may be any whole number."""
    asked = {"chart": "| C | F |", "choruses": 2, "seed": 10**300, "candidates": 20}
    response = client.post("/v1/lead", json=asked)
    assert response.status_code == 200
    assert response.json["request"]["seed"] == 10**300


def test_thousands_of_faults_are_not_all_told(client: Client) -> None:
    """The answer to a mass of nonsense stays short."""
    response = client.post("/v1/chart", json={f"x{number}": 1 for number in range(50_000)})
    assert response.status_code == 422
    assert len(response.json["errors"]) == 100
    assert len(response.data) < 50_000


@pytest.mark.parametrize("query", ["symbol=%ff", "symbol=%ED%A0%80", "%ff=C"])
def test_query_that_is_not_utf_8_is_refused(client: Client, query: str) -> None:
    """Nothing is put in place of what cannot be read."""
    response = client.get(f"/v1/spell?{query}")
    assert (response.status_code, _kind(response)) == (400, "bad-request")


def test_query_without_end_is_refused(client: Client) -> None:
    """A thousand parameters are enough."""
    response = client.get("/v1/spell?" + "&".join(["symbol=C"] * 1001))
    assert (response.status_code, _kind(response)) == (400, "bad-request")


STRINGS_16 = " ".join(["E2", "A2", "D3", "G3"] * 4)
EXPLODING = {
    "symbol": "C13",
    "literal": True,
    "instrument": STRINGS_16,
    "frets": 48,
    "scale_mm": 300,
    "fingers": 5,
    "reach_mm": 1000,
}


@pytest.mark.parametrize("path", ["/v1/voicings", "/v1/voicings?format=ndjson", "/v1/study"])
def test_search_past_its_bound_says_how_to_narrow_it(client: Client, path: str) -> None:
    """422; and it is told while the search is still small."""
    start = time.monotonic()
    response = client.post(path, json=EXPLODING)
    assert (response.status_code, _kind(response)) == (422, "too-many")
    assert "narrow it by strategy, string set, fret limits" in response.json["detail"]
    assert time.monotonic() - start < Settings().time_limit_s


def test_work_past_its_time_is_broken_off() -> None:
    """It holds its worker no longer than the bound, and says what to ask less of."""
    limited = client_of(create_app(settings=Settings(time_limit_s=0.3), registry=registry))
    chart = "| Dm7 G7 | Cmaj7 A7 " * 40 + "|"
    start = time.monotonic()
    response = limited.post("/v1/lead", json={"chart": chart, "candidates": 5000, "choruses": 50})
    assert (response.status_code, _kind(response)) == (422, "too-long")
    assert "candidates, choruses" in response.json["detail"]
    assert time.monotonic() - start < 5
    # The worker is sound: it goes on answering.
    assert limited.get("/v1/spell?symbol=C").status_code == 200


def test_hours_of_sound_are_not_rendered(client: Client) -> None:
    """A small request may not become a file of gigabytes; its notes are given."""
    asked = {"form": "turnaround", "key": "C", "tempo": 40, "choruses": 100, "candidates": 20}
    response = client.post("/v1/drill?format=wav", json=asked)
    assert (response.status_code, _kind(response)) == (422, "too-long")
    assert "fewer choruses" in response.json["detail"]
    assert client.post("/v1/drill?format=midi", json=asked).status_code == 200


def test_sounds_leave_workers_free() -> None:
    """One sound too many at a time is told to come again (RFC 9110, section 15.6.4)."""
    app = create_app(settings=Settings(sounds_at_once=2), registry=registry)
    client, service = client_of(app), app.extensions["gripwright"]
    asked = {"form": "turnaround", "key": "C", "candidates": 20}
    with service.rendering(), service.rendering():
        response = client.post("/v1/drill?format=wav", json=asked)
        assert (response.status_code, _kind(response)) == (503, "busy")
        assert int(response.headers["Retry-After"]) > 0
        assert client.post("/v1/drill?format=midi", json=asked).status_code == 200
    for choruses in (1, 2, 3):
        again = client.post("/v1/drill?format=wav", json={**asked, "choruses": choruses})
        assert again.status_code == 200


def test_twenty_sounds_at_once_do_not_hold_the_server() -> None:
    """With four workers two render, and the others tell who comes next to come again."""
    asked = {"form": "turnaround", "key": "C", "choruses": 12, "candidates": 5}
    with (
        served("--threads", "4", "--time-limit", "60") as server,
        ThreadPoolExecutor(20) as clients,
    ):
        server.post("/v1/drill", asked)
        body = json.dumps(asked).encode()
        data = server.head("POST", "/v1/drill?format=wav", body) + body
        sounds = [clients.submit(server.ask, data) for _ in range(20)]
        assert any(sound.result()[0] == 503 for sound in as_completed(sounds))
        assert server.get("/v1/spell?symbol=C")["count"] == 1
        rendering = sum(not sound.done() for sound in sounds)
        statuses = [sound.result()[0] for sound in sounds]
    assert rendering > 0
    assert set(statuses) == {200, 503}


def test_chart_of_a_mebibyte_holds_no_worker(client: Client) -> None:
    """Read, or refused in time."""
    start = time.monotonic()
    response = client.post("/v1/chart", json={"chart": "| C " * 250_000 + "|"})
    assert response.status_code in {200, 422}
    assert time.monotonic() - start < Settings().time_limit_s + 5


def _zipped(name: str, data: bytes) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(
            "META-INF/container.xml",
            f'<container><rootfiles><rootfile full-path="{name}"/></rootfiles></container>',
        )
        archive.writestr(name, data)
    return stream.getvalue()


LAUGHS = b"""<?xml version="1.0"?><!DOCTYPE score-partwise [<!ENTITY a "ha">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">
<!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;"><!ENTITY e "&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;">]>
<score-partwise version="4.0"><work><work-title>&e;</work-title></work></score-partwise>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE score-partwise [<!ENTITY f SYSTEM "file:///etc/passwd">]>
<score-partwise version="4.0"><work><work-title>&f;</work-title></work></score-partwise>"""


@pytest.mark.parametrize(
    ("data", "content_type"),
    [
        (LAUGHS, LEAD_SHEET),
        (OUTSIDE, LEAD_SHEET),
        (b"<score-partwise>", LEAD_SHEET),
        (b"<html/>", LEAD_SHEET),
        (_zipped("a.musicxml", b"<x>" + b" " * 60_000_000), "application/vnd.recordare.musicxml"),
        (_zipped("../../a", b"<x/>"), "application/vnd.recordare.musicxml"),
        (b"PK\x03\x04 broken", "application/vnd.recordare.musicxml"),
    ],
    ids=["laughs", "outside", "broken", "no-score", "bomb", "above", "no-zip"],
)
def test_hostile_lead_sheets_are_refused(client: Client, data: bytes, content_type: str) -> None:
    """Entities, bombs and broken files; nothing of this machine stands in the answer."""
    start = time.monotonic()
    response = _post(client, data, content_type)
    assert response.status_code == 422
    assert b"root:" not in response.data
    assert time.monotonic() - start < 5


def test_lead_sheet_is_read_as_a_body_and_in_json(client: Client) -> None:
    """As a file with its own media type, the options in the query; or as a data URL."""
    data = ONE_BAR.read_bytes()
    alone = client.post("/v1/chart?by=2", data=data, content_type=LEAD_SHEET)
    held = f"data:{LEAD_SHEET};base64,{base64.b64encode(data).decode()}"
    inside = client.post("/v1/chart", json={"chart": held, "by": 2})
    assert alone.status_code == inside.status_code == 200
    assert alone.json["bars"] == inside.json["bars"]


def test_chart_is_read_as_plain_text(client: Client) -> None:
    """A tune in a file, as musicians write it."""
    response = client.post(
        "/v1/chart?to_key=Eb", data="key: C\n| Dm7 G7 | Cmaj7 |", content_type="text/plain"
    )
    assert response.json["text"].splitlines() == ["key: Eb", "| Fm7 Bb7 | Ebmaj7 |"]


@pytest.mark.parametrize("chart", ["/etc/passwd", "../x", "-", "file:///etc/passwd", "a\0b"])
def test_no_text_of_a_request_is_a_path(client: Client, chart: str) -> None:
    """On the command line a chart may be a file; here never."""
    response = client.post("/v1/chart", json={"chart": chart})
    assert response.status_code == 422
    assert b"root:" not in response.data


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PUT", "DELETE", "PATCH"])
def test_other_methods_are_refused(client: Client, method: str) -> None:
    """With those that are taken."""
    response = client.open("/v1/voicings", method=method)
    assert response.status_code == 405
    assert "POST" in response.headers["Allow"]
