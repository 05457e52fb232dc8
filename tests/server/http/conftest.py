"""An application under test, and a running server for what only one can show."""

from collections.abc import Iterator

import pytest

from gripwright import Registry, load_registry
from gripwright_server.http import create_app
from tests.server.http.client import Client, client_of
from tests.server.http.live import LiveServer, served

REGISTRY = load_registry()


def registry() -> Registry:
    """The plugins of the tests, loaded once."""
    return REGISTRY


@pytest.fixture(scope="session")
def client() -> Client:
    """A client of an application with the usual settings."""
    return client_of(create_app(registry=registry))


@pytest.fixture(scope="module")
def live() -> Iterator[LiveServer]:
    """A server with the usual settings, in a process of its own."""
    with served() as server:
        yield server
