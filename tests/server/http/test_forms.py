"""Which form an answer takes, and what a file is called."""

import itertools
import re

import attrs
import pytest
from defusedxml import ElementTree  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st
from werkzeug.http import parse_options_header

from gripwright import Score
from gripwright_server.formats.exported import exported
from gripwright_server.http import create_app
from gripwright_server.http.download import file_name
from gripwright_server.http.surface import Surface
from gripwright_server.operations.drill import DRILL as DRILL_OPERATION
from gripwright_server.operations.voicings import VOICINGS
from tests.server.http.client import Client, client_of
from tests.server.http.conftest import REGISTRY

VOICINGS_SURFACE = Surface(VOICINGS)
DRILL_SURFACE = Surface(DRILL_OPERATION)


@pytest.mark.parametrize(
    ("accept", "expected"),
    [
        (None, "application/json"),
        ("*/*", "application/json"),
        ("application/json", "application/json"),
        ("application/*;q=0.5, text/csv;q=0.4", "application/json"),
        ("text/csv", "text/csv; charset=utf-8; header=present"),
        ("image/svg+xml, application/json;q=0.9", "image/svg+xml"),
        ("text/html, image/*;q=0.8", "image/svg+xml"),
        ("application/x-ndjson", "application/x-ndjson"),
    ],
)
def test_accept_chooses_the_form(client: Client, accept: str | None, expected: str) -> None:
    """As RFC 9110, section 12.5.1 has it; JSON where nothing is said."""
    headers = {} if accept is None else {"Accept": accept}
    asked = {"symbol": "C", "strategy": "triads", "limit": 2}
    response = client.post("/v1/voicings", json=asked, headers=headers)
    assert (response.status_code, response.content_type) == (200, expected)
    assert response.headers["Vary"] == "Accept"


def test_what_is_not_offered_is_told_with_what_is(client: Client) -> None:
    """406, with names and media types."""
    response = client.get("/v1/spell?symbol=C", headers={"Accept": "application/pdf"})
    assert response.status_code == 406
    assert response.json["offered"][0] == {"format": "json", "media_type": "application/json"}
    response = client.get("/v1/spell?symbol=C&format=jsonn")
    assert response.status_code == 422
    fault = response.json["errors"][0]
    assert (fault["parameter"], fault["nearest"]) == ("format", ["json", "ndjson"])


def test_parameter_goes_before_the_header(client: Client) -> None:
    """For links, which cannot send a header."""
    response = client.get(
        "/v1/spell?symbol=C&format=ndjson", headers={"Accept": "application/json"}
    )
    assert response.content_type == "application/x-ndjson"


def test_picture_is_shown_and_can_run_nothing(client: Client) -> None:
    """SVG can hold scripts: the browser is told to guess nothing, load nothing and run nothing."""
    response = client.post("/v1/voicings?format=svg", json={"symbol": "C", "limit": 4})
    assert response.content_type == "image/svg+xml"
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    policy = response.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "sandbox" in policy
    assert "script-src" not in policy
    assert response.headers["Content-Disposition"].startswith("inline;")
    root = ElementTree.fromstring(response.data)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"


def test_chart_as_a_lead_sheet(client: Client) -> None:
    """The registered media type of MusicXML, and a file to be saved."""
    asked = {"form": "jazz-blues", "key": "F"}
    response = client.post("/v1/chart?format=musicxml", json=asked)
    assert response.content_type == "application/vnd.recordare.musicxml+xml"
    disposition, options = parse_options_header(response.headers["Content-Disposition"])
    assert disposition == "attachment"
    assert re.fullmatch(r"chart-jazz-blues-[0-9a-f]{8}\.musicxml", options["filename"])
    assert ElementTree.fromstring(response.data).tag == "score-partwise"


def _named(symbol: str, suffix: str = ".svg") -> str:
    return file_name(VOICINGS_SURFACE, VOICINGS_SURFACE.complete({"symbol": symbol}), suffix)


def test_names_of_files_differ_where_symbols_do() -> None:
    """Also where letters alone would not tell, and where capitals do not count."""
    symbols = ["C#7", "Cb7", "C7b9", "C7#9", "CM7", "Cm7", "cm7", "C/E", "C+7", "C-7", "C (7)"]
    names = [_named(symbol).lower() for symbol in symbols]
    assert len(set(names)) == len(symbols)
    assert names[0].startswith("voicings-csharp7-")


@given(symbol=st.text(max_size=64))
def test_names_of_files_are_safe(symbol: str) -> None:
    """Letters, digits, dashes and one dot: nothing that a path or a header could take amiss."""
    assert re.fullmatch(r"voicings-[A-Za-z0-9-]{8,60}\.svg", _named(symbol))


@given(first=st.text(max_size=12), second=st.text(max_size=12))
def test_different_requests_have_different_names(first: str, second: str) -> None:
    """A digest of the whole request stands in the name."""
    assert (first == second) == (_named(first).lower() == _named(second).lower())


DRILL = {"form": "jazz-blues", "key": "F", "tempo": 80, "candidates": 60}


@pytest.mark.parametrize("name", sorted(REGISTRY.exporters))
def test_drill_comes_from_every_exporter(client: Client, name: str) -> None:
    """Media type and ending are what the exporter says; the bytes are the library's own."""
    exporter = REGISTRY.exporters[name]
    response = client.post(f"/v1/drill?format={name}", json=DRILL)
    assert response.status_code == 200
    assert response.content_type == exporter.media_type
    if name == "json":
        assert response.json["schema"] == "gripwright/score/1"
        return
    _, options = parse_options_header(response.headers["Content-Disposition"])
    suffix = re.escape(exporter.suffixes[0])
    assert re.fullmatch(rf"drill-jazz-blues-[0-9a-f]{{8}}{suffix}", options["filename"])
    values = DRILL_SURFACE.complete(DRILL)
    request = DRILL_SURFACE.request(values)
    result = DRILL_OPERATION.function(request, lambda: REGISTRY)
    assert response.data == exported(exporter, request, result)


def test_media_type_of_an_exporter_can_be_accepted(client: Client) -> None:
    """Without the parameter."""
    response = client.post("/v1/drill", json=DRILL, headers={"Accept": "audio/midi, */*;q=0.1"})
    assert response.data.startswith(b"MThd")


def test_exporter_of_a_stranger_is_offered() -> None:
    """A plugin brings it with its media type, and nothing here knows of it."""

    @attrs.frozen
    class Plain:
        name: str = "bell"
        summary: str = "Rings."
        suffixes: tuple[str, ...] = (".bell",)
        media_type: str = "audio/x-bell"

        def export(self, score: Score, /) -> bytes:
            return b"\x07" * len(score.bars)

    registry = attrs.evolve(REGISTRY, exporters={"bell": Plain()})
    client = client_of(create_app(registry=lambda: registry))
    response = client.post("/v1/drill", json=DRILL, headers={"Accept": "audio/x-bell"})
    assert (response.status_code, response.content_type) == (200, "audio/x-bell")
    assert response.data.startswith(b"\x07")
    assert client.post("/v1/drill?format=midi", json=DRILL).status_code == 422


def test_every_form_of_every_operation_is_its_own(client: Client) -> None:
    """Two forms of an answer never share an entity tag."""
    asked = {"chart": "| Dm7 G7 | Cmaj7 |"}
    tags = [
        client.post(f"/v1/chart?format={name}", json=asked).headers["ETag"]
        for name in ("json", "ndjson", "text", "musicxml", "svg")
    ]
    assert all(one != other for one, other in itertools.combinations(tags, 2))
