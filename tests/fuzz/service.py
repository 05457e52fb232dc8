"""The HTTP surface: whatever a client sends is answered, and never as a failure of the service."""

import json

from gripwright import Registry, load_registry
from gripwright_server.http import create_app
from gripwright_server.http.settings import Settings
from tests.fuzz.target import Target
from tests.server.http.client import Answer, client_of

REGISTRY = load_registry()
FAILURE = 500


def _registry() -> Registry:
    return REGISTRY


CLIENT = client_of(
    create_app(registry=_registry, settings=Settings(time_limit_s=2.0, row_bound=100_000))
)


def _judge(response: Answer) -> None:
    assert response.status_code < FAILURE, response.get_data(as_text=True)
    if response.status_code >= 400:
        problem = json.loads(response.data)
        assert problem["status"] == response.status_code
        assert all(fault["pointer"] is not None for fault in problem.get("errors", ()))


def _body_target(operation: str, *requests: dict[str, object]) -> Target:
    def check(data: bytes) -> None:
        _judge(CLIENT.post(f"/v1/{operation}", data=data, content_type="application/json"))

    keys = {key for request in requests for key in request}
    words = ('{"', '": ', ', "', "null", "true", "-1", "1e999", "[", "]", "}", '"\\ud800"', "2.5")
    return Target(
        f"http-{operation}",
        check,
        tuple(json.dumps(request).encode() for request in requests),
        tuple(word.encode() for word in (*words, *sorted(keys), "Cmaj7", "| C |")),
    )


def _check_query(data: bytes) -> None:
    path, _, query = data.decode("ascii", "replace").partition("?")
    _judge(CLIENT.get(f"/v1/{path.strip('/')}", query_string=query))


SERVICE = (
    _body_target("chart", {"chart": "| Dm7 | G7 |", "to_key": "Ab", "capo": 3}, {"form": "blues"}),
    _body_target(
        "voicings",
        {"symbol": "Cmaj7", "instrument": "ukulele", "strings": [4, 3, 2], "reach_mm": 90},
        {"symbol": "G13", "instrument": "C3 G3 D4", "stroke": "pluck", "limit": 3},
    ),
    _body_target("lead", {"chart": "| Dm7 | G7 |", "instrument": "ukulele", "band": "bass"}),
    _body_target("study", {"symbol": "Cmaj7", "instrument": "ukulele"}),
    _body_target(
        "drill",
        {"chart": "| Dm7 |", "instrument": "ukulele", "pattern": "1 2.5'", "tempo": 60},
        {"chart": "| G7 |", "instrument": "ukulele", "rung": 2, "swing": "3/2", "click": "2 4"},
    ),
    Target(
        "http-query",
        _check_query,
        (
            b"spell?symbol=C%237&symbol=G7",
            b"name?notes=x-7-9-7-8-x&limit=4",
            b"explain?symbol=Cmaj7&shape=x-3-5-3-5-x",
            b"rhythms?meter=6/8",
            b"instruments?cursor=eJyLVtIzVIoFAAYJAYI",
        ),
        (b"&", b"=", b"%", b"%00", b"%ff", b"+", b"cursor=", b"format=", b"limit=", b"?", b"/"),
    ),
)
"""A target an operation that is asked by POST, and one for all that are asked by GET."""
