"""The registry of the tests of rhythm."""

from typing import Final

from gripwright import Registry, load_registry

REGISTRY: Final[Registry] = load_registry()
