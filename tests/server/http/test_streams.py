"""Streams: every row, in chunks, with an end that can be seen."""

import csv
import io
import json
from collections.abc import Iterator
from typing import Any

import attrs
import pytest

from gripwright_server.http import create_app
from gripwright_server.http.writing import CHUNK
from gripwright_server.operations import RegistrySource, Result
from gripwright_server.operations.operation import ResultInParts
from gripwright_server.operations.voicings import VOICINGS
from tests.server.http.client import Client, client_of
from tests.server.http.conftest import REGISTRY

NDJSON = {"Accept": "application/x-ndjson"}


def _chunks(client: Client, asked: dict[str, Any], **headers: str) -> list[bytes]:
    response = client.post("/v1/voicings", json=asked, headers={**NDJSON, **headers})
    assert response.status_code == 200
    assert response.content_type == "application/x-ndjson"
    return list(response.iter_encoded())


def test_stream_has_every_row_and_an_end(client: Client) -> None:
    """Without a limit, all; the last record says that it is the last, and how many there were."""
    lines = b"".join(_chunks(client, {"symbol": "Dm7"})).splitlines()
    *rows, end = map(json.loads, lines)
    count = client.post("/v1/voicings", json={"symbol": "Dm7"}).json["count"]
    assert end == {"end": True, "count": count}
    assert len(rows) == count
    assert len({row["id"] for row in rows}) == count


def test_chunks_hold_five_hundred_rows(client: Client) -> None:
    """All but the last, which holds what is left."""
    sizes = [chunk.count(b"\n") for chunk in _chunks(client, {"symbol": "Dm7"})]
    assert set(sizes[:-1]) == {CHUNK} == {500}
    assert 0 < sizes[-1] <= CHUNK


def test_stream_of_so_many(client: Client) -> None:
    """A limit holds, and the count is that of the rows sent."""
    lines = b"".join(_chunks(client, {"symbol": "Dm7", "limit": 3})).splitlines()
    assert len(lines) == 4
    assert json.loads(lines[-1]) == {"end": True, "count": 3}


def test_stream_of_chosen_rows_has_a_usual_number(client: Client) -> None:
    """Those that differ most are chosen for a number, a page of them if none is given."""
    lines = b"".join(_chunks(client, {"symbol": "C", "diverse": True})).splitlines()
    assert len(lines) == 101


def test_rows_are_those_of_the_pages(client: Client) -> None:
    """In the same order."""
    asked = {"symbol": "G13", "strategy": "rootless"}
    rows = [json.loads(line) for line in b"".join(_chunks(client, asked)).splitlines()[:-1]]
    page = client.post("/v1/voicings", json={**asked, "limit": 1000}).json["voicings"]
    assert rows[:1000] == page


def test_stream_that_breaks_off_has_no_end() -> None:
    """An error after the first chunk cannot change the status, but it can be seen."""

    class Breaking:
        def __init__(self, inside: Result) -> None:
            self.inside = inside
            self.count = inside.count
            self.returned = inside.returned
            self.warnings: tuple[str, ...] = ()

        def part(self, start: int, stop: int | None) -> "Breaking":
            assert isinstance(self.inside, ResultInParts)
            return Breaking(self.inside.part(start, stop))

        def rows(self) -> Iterator[object]:
            for number, row in enumerate(self.inside.rows()):
                if number == CHUNK + 1:
                    raise RuntimeError
                yield row

    def breaks(request: object, source: RegistrySource) -> Breaking:
        return Breaking(VOICINGS.function(request, source))

    operation = attrs.evolve(VOICINGS, function=breaks)
    client = client_of(create_app(operations=[operation], registry=lambda: REGISTRY))
    response = client.post("/v1/voicings", json={"symbol": "C"}, headers=NDJSON, buffered=False)
    received: list[bytes] = []
    with pytest.raises(RuntimeError):
        received.extend(response.iter_encoded())
    assert len(received) == 1
    assert all(b'"end"' not in chunk for chunk in received)


def test_problem_comes_before_a_stream(client: Client) -> None:
    """What is wrong with the request is known before the first row."""
    response = client.post("/v1/voicings", json={"symbol": "Cmaj77"}, headers=NDJSON)
    assert (response.status_code, response.content_type) == (422, "application/problem+json")


def test_csv_is_a_table_of_all(client: Client) -> None:
    """A line of names, then a line a voicing."""
    asked = {"symbol": "Cmaj7", "strategy": "drop-2"}
    response = client.post("/v1/voicings?format=csv", json=asked)
    assert response.content_type == "text/csv; charset=utf-8; header=present"
    rows = list(csv.DictReader(io.StringIO(response.text)))
    assert len(rows) == client.post("/v1/voicings", json=asked).json["count"]


@pytest.mark.parametrize("start", ["=", "+", "-", "@"])
def test_cells_that_a_spreadsheet_would_run_are_defused(start: str) -> None:
    """OWASP, "CSV Injection": a cell that begins so gets an apostrophe."""
    ukulele = REGISTRY.instruments["ukulele"]
    hostile = attrs.evolve(ukulele, id=f"{start}cmd|' /C calc'!A0")
    registry = attrs.evolve(REGISTRY, instruments={**REGISTRY.instruments, hostile.id: hostile})
    client = client_of(create_app(registry=lambda: registry))
    response = client.post(
        "/v1/voicings?format=csv", json={"symbol": "C", "instrument": hostile.id, "limit": 5}
    )
    rows = list(csv.DictReader(io.StringIO(response.text)))
    assert len(rows) == 5
    assert all(row["id"].startswith(f"'{start}cmd") for row in rows)
    assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row.values())
