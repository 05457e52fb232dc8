"""Who may call, by which name, and from which pages."""

import pytest

from gripwright_server.http import create_app
from tests.server.http.client import Client, client_of
from tests.server.http.conftest import registry

PATH = "/v1/spell?symbol=C"
APP = "https://app.example"


def _asked(client: Client, host: str, method: str = "GET") -> int:
    return client.open(PATH, method=method, environ_overrides={"HTTP_HOST": host}).status_code


@pytest.mark.parametrize(
    "host", ["localhost", "localhost:8000", "127.0.0.1", "127.0.0.1:1", "[::1]:8000"]
)
def test_own_names_are_answered(client: Client, host: str) -> None:
    """This machine, at any port."""
    assert _asked(client, host) == 200


@pytest.mark.parametrize("method", ["GET", "HEAD", "OPTIONS", "POST"])
@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "localhost.evil.example",
        "evil.example:8000",
        "127.0.0.1.evil.example",
        "",
        " ",
        "localhost/../",
        "a@localhost",
        "192.168.0.1",
        "localhost:port",
        "\u1e9fxample",
    ],
)
def test_foreign_names_are_refused(client: Client, host: str, method: str) -> None:
    """DNS rebinding: the name in the header is that of the page, though it leads here."""
    host = host.encode().decode("latin-1")
    assert _asked(client, host, method) == 400


def test_refusal_is_a_problem(client: Client) -> None:
    """Of a kind of its own."""
    response = client.get(PATH, environ_overrides={"HTTP_HOST": "evil.example"})
    assert response.json["type"] == "/v1/docs#problem-foreign-host"


def test_names_that_were_given_are_answered() -> None:
    """One name, and every name below another."""
    app = create_app(trusted_hosts=["practice.example", ".school.example"], registry=registry)
    client = client_of(app)
    for host in ("practice.example", "practice.example:443", "a.school.example"):
        assert _asked(client, host) == 200
    for host in ("a.practice.example", "localhost", "badschool.example"):
        assert _asked(client, host) == 400


def test_endless_names_are_refused() -> None:
    """A name of more than 253 characters is none (RFC 1035, section 2.3.4); it is not kept."""
    client = client_of(create_app(trusted_hosts=[".example"], registry=registry))
    longest = "a." * 122 + "b.example"
    assert len(longest) == 253
    assert _asked(client, f"{longest}:65535") == 200
    assert _asked(client, f"{'a.' * 5000}example") == 400


def test_forwarded_names_do_not_count(client: Client) -> None:
    """A header that anyone can send changes nothing."""
    headers = {"X-Forwarded-Host": "localhost", "Forwarded": "host=localhost"}
    response = client.get(PATH, headers=headers, environ_overrides={"HTTP_HOST": "evil.example"})
    assert response.status_code == 400


def _cors(headers: object) -> list[str]:
    return [name for name, _ in headers if name.startswith("Access-Control")]  # type: ignore[attr-defined]


def test_pages_of_others_may_read_nothing(client: Client) -> None:
    """Without origins named, no header lets a page of another origin in."""
    for method in ("GET", "OPTIONS"):
        response = client.open(
            PATH,
            method=method,
            headers={"Origin": APP, "Access-Control-Request-Method": "POST"},
        )
        assert not _cors(response.headers)


@pytest.fixture
def open_to_app() -> Client:
    """A client of a service that one origin may read."""
    return client_of(create_app(origins=[APP], registry=registry))


def test_origin_that_was_named_may_read(open_to_app: Client) -> None:
    """Also the headers that it needs, and also problems."""
    for path in (PATH, "/v1/spell?symbol=Q"):
        response = open_to_app.get(path, headers={"Origin": APP})
        assert response.headers["Access-Control-Allow-Origin"] == APP
        assert "Link" in response.headers["Access-Control-Expose-Headers"]
        assert "Access-Control-Allow-Credentials" not in response.headers


def test_origin_asks_before_it_posts(open_to_app: Client) -> None:
    """The preflight of the Fetch standard."""
    response = open_to_app.options(
        "/v1/voicings",
        headers={
            "Origin": APP,
            "Access-Control-Request-Method": "POST",
            "Access-Control-Request-Headers": "content-type",
        },
    )
    assert response.status_code == 200
    assert response.headers["Access-Control-Allow-Origin"] == APP
    assert "POST" in response.headers["Access-Control-Allow-Methods"]
    assert "Content-Type" in response.headers["Access-Control-Allow-Headers"]


@pytest.mark.parametrize(
    "origin",
    ["https://app.example.evil.example", "http://app.example", "null", "https://b.example"],
)
def test_other_origins_may_still_not(open_to_app: Client, origin: str) -> None:
    """The whole origin must match; and a cache is told that answers differ by it."""
    response = open_to_app.get(PATH, headers={"Origin": origin})
    assert not _cors(response.headers)
    assert "Origin" in response.headers.get_all("Vary") + response.headers["Vary"].split(", ")
