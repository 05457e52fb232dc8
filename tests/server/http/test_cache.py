"""What a process remembers, and how much of it."""

from concurrent.futures import ThreadPoolExecutor

from hypothesis import given
from hypothesis import strategies as st

from gripwright_server.http import create_app
from gripwright_server.http.cache import BoundedCache
from gripwright_server.http.settings import Settings
from tests.server.http.client import client_of
from tests.server.http.conftest import registry


@given(
    keys=st.lists(st.tuples(st.integers(0, 20), st.integers(1, 30)), max_size=60),
    bound=st.integers(1, 100),
)
def test_weight_never_goes_past_the_bound(keys: list[tuple[int, int]], bound: int) -> None:
    """Whatever is kept, and the weight is that of what is there."""
    cache = BoundedCache[int](bound)
    weights: dict[bytes, int] = {}
    for key, weight in keys:
        cache.keep(b"%d" % key, weight, weight)
        weights[b"%d" % key] = weight
        assert cache.weight <= bound
    held = [value for key in weights if (value := cache.get(key)) is not None]
    assert sum(held) == cache.weight


def test_what_was_used_last_is_forgotten_last() -> None:
    """The oldest goes first, save where it was asked for since."""
    cache = BoundedCache[str](9)
    for key in (b"a", b"b", b"c"):
        cache.keep(key, "value", 3)
    assert cache.get(b"a")
    cache.keep(b"d", "value", 3)
    assert [cache.get(key) for key in (b"a", b"b", b"c", b"d")] == ["value", None, "value", "value"]


def test_threads_share_it() -> None:
    """The weight stays right under many at once."""
    cache = BoundedCache[int](500)

    def work(seed: int) -> None:
        for number in range(500):
            cache.keep(b"%d" % (number * seed % 97), number, 1 + number % 7)
            cache.get(b"%d" % (number % 89))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(work, range(1, 9)))
    held = [cache.get(b"%d" % number) for number in range(97)]
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
