"""What a process remembers, and how much of it."""

import gc
import tracemalloc
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright_server.http import create_app
from gripwright_server.http.cache import BoundedCache
from gripwright_server.http.settings import Settings
from tests.server.http.client import client_of
from tests.server.http.conftest import registry

ONE_BAR = Path(__file__).parents[2] / "data" / "leadsheet-one-bar.musicxml"


@given(
    keys=st.lists(st.tuples(st.integers(0, 20), st.integers(1, 30)), max_size=60),
    bound=st.integers(1, 100),
)
def test_weight_never_goes_past_the_bound(keys: list[tuple[int, int]], bound: int) -> None:
    """Whatever is kept, and the weight is that of what is there."""
    cache = BoundedCache[int](bound)
    weights: dict[str, int] = {}
    for key, weight in keys:
        cache.keep(str(key), weight, weight)
        weights[str(key)] = weight
        assert cache.weight <= bound
    held = [value for key in weights if (value := cache.get(key)) is not None]
    assert sum(held) == cache.weight


def test_what_was_used_last_is_forgotten_last() -> None:
    """The oldest goes first, save where it was asked for since."""
    cache = BoundedCache[str](9)
    for key in ("a", "b", "c"):
        cache.keep(key, "value", 3)
    assert cache.get("a")
    cache.keep("d", "value", 3)
    assert [cache.get(key) for key in ("a", "b", "c", "d")] == ["value", None, "value", "value"]


def test_threads_share_it() -> None:
    """The weight stays right under many at once."""
    cache = BoundedCache[int](500)

    def work(seed: int) -> None:
        for number in range(500):
            cache.keep(str(number * seed % 97), number, 1 + number % 7)
            cache.get(str(number % 89))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(work, range(1, 9)))
    held = [cache.get(str(number)) for number in range(97)]
    assert cache.weight <= 500
    assert any(value is not None for value in held)


def test_service_without_memory_answers_the_same() -> None:
    """What is remembered is what would be worked out again."""
    asked = {"symbol": "G7", "limit": 30}
    forgetful = create_app(settings=Settings(cached_rows=0, cached_bytes=0), registry=registry)
    usual = create_app(registry=registry)
    answers = [client_of(app).post("/v1/voicings", json=asked).data for app in (forgetful, usual)]
    assert answers[0] == answers[1]
    client = client_of(forgetful)
    assert client.post("/v1/voicings", json=asked).data == answers[0]
    assert forgetful.extensions["gripwright"].bodies.weight == 0


def test_table_is_searched_once_for_its_pages() -> None:
    """Turning pages does not search again."""
    app = create_app(registry=registry)
    client = client_of(app)
    results = app.extensions["gripwright"]._results  # noqa: SLF001 - what is kept is the matter
    address = client.post("/v1/voicings", json={"symbol": "G7", "limit": 30}).json["next"]
    weight = results.weight
    for _ in range(5):
        address = client.get(address).json["next"]
    assert results.weight == weight > 100


def test_long_requests_leave_nothing_long_behind() -> None:
    """What is remembered of them is short, so that many of them do not fill the memory."""
    client = client_of(create_app(registry=registry))
    lead_sheet = ONE_BAR.read_bytes()
    head, mark, tail = lead_sheet.partition(b"<part-list>")
    tracemalloc.start()
    for number in range(4):
        remark = b"<!-- %d %s -->" % (number, b"x" * 900_000)
        response = client.post(
            "/v1/chart?format=text",
            data=b"".join((head, remark, mark, tail)),
            content_type="application/vnd.recordare.musicxml+xml",
        )
        assert response.status_code == 200
        del remark, response
        gc.collect()
        if number == 0:
            held = tracemalloc.get_traced_memory()[0]
    grown = tracemalloc.get_traced_memory()[0] - held
    tracemalloc.stop()
    assert grown < 900_000


@pytest.mark.parametrize("path", ["/v1/drill?format=midi", "/v1/lead", "/v1/study"])
def test_answers_weigh_what_they_take(path: str) -> None:
    """The bound on rows is one on memory, some 50 bytes for each row, whatever the answer is."""
    # Memory is watched here, which slows the work down, and not time.
    app = create_app(settings=Settings(time_limit_s=120.0), registry=registry)
    client, service = client_of(app), app.extensions["gripwright"]
    tune = {"chart": "| Dm7 | G7 | Cmaj7 | A7 |", "choruses": 20, "candidates": 6}
    asked = {"symbol": "Dm7", "top": "dorian"} if path == "/v1/study" else tune
    warm = {"symbol": "Em7", "top": "dorian"} if path == "/v1/study" else {"chart": "| C |"}
    assert client.post(path, json=warm).status_code == 200
    gc.collect()
    before = service.held_rows
    tracemalloc.start()
    assert client.post(path, json=asked).status_code == 200
    gc.collect()
    grown = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    assert grown < 60 * (service.held_rows - before) + service.bodies.weight
