"""One service: its registry, loaded once, and the answers that it remembers."""

from __future__ import annotations

import contextlib
import functools
import hashlib
import importlib
import sys
import threading
from typing import TYPE_CHECKING, Any, Final, cast

import gripwright
from gripwright.errors import GripwrightError
from gripwright_server.http.cache import BoundedCache
from gripwright_server.http.deadline import time_limited
from gripwright_server.http.failure import problem_of
from gripwright_server.http.fingerprint import fingerprint
from gripwright_server.http.kinds import BUSY
from gripwright_server.http.problem import ProblemError
from gripwright_server.http.routes import LIMIT
from gripwright_server.http.surface import DIVERSE
from gripwright_server.operations.row_bound import rows_bounded

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from gripwright.plugins import Registry
    from gripwright_server.http.settings import Settings
    from gripwright_server.http.surface import Surface, Values
    from gripwright_server.http.writing import Written
    from gripwright_server.operations import Operation, Result

_ENTRY: Final = 300
"""Rows of a table that weigh as much as any answer does beside its rows."""

_ROW: Final = 30
"""Rows of a table that weigh as much as a row that is a value of its own, with what it is of."""

_LATER_S: Final = "5"
"""Seconds after which a sound is asked for again."""


class Service:
    """What answers the requests of one process.

    It keeps no state: what it remembers is what it would work out again.

    Args:
        settings: What it may do.
        registry: Gives the plugins; those installed where nothing is said.
    """

    def __init__(self, settings: Settings, registry: Callable[[], Registry] | None = None) -> None:
        self.settings: Final = settings
        self.bodies: Final[BoundedCache[Written]] = BoundedCache(settings.cached_bytes)
        self._results: Final[BoundedCache[Result]] = BoundedCache(settings.cached_rows)
        self._load: Final = registry or self._installed
        self._loading: Final = threading.Lock()
        self._renderings: Final = threading.BoundedSemaphore(max(1, settings.sounds_at_once))

    def registry(self) -> Registry:
        """The plugins, loaded at the first call."""
        with self._loading:
            return self._loaded

    def prepare(self) -> None:
        """Load what every answer needs, so that the first does not wait for it."""
        # A search needs NumPy and what stands on it.
        importlib.import_module("gripwright.neck.search")
        _ = self.version

    @functools.cached_property
    def version(self) -> str:
        """What answers are worked out by: another version may answer otherwise."""
        return fingerprint(self.registry())

    @functools.cached_property
    def _versioned(self) -> hashlib.blake2b:
        return hashlib.blake2b(b"%s " % self.version.encode(), digest_size=16)

    @property
    def held_rows(self) -> int:
        """What the answers weigh that are remembered, in rows of a table."""
        return self._results.weight

    def entity_tag(self, key: bytes) -> str:
        """A strong entity tag (RFC 9110, section 8.8.3), without its quotes, for an answer.

        Args:
            key: The canonical request, with the form of the answer.
        """
        digest = self._versioned.copy()
        digest.update(key)
        return digest.hexdigest()

    def result(self, surface: Surface, values: Values) -> Result:
        """The answer of an operation, remembered or worked out.

        Where the request wants a page, the answer holds all rows, so that other pages can be had.

        Args:
            surface: The operation.
            values: Its request, complete.

        Raises:
            GripwrightError: As the operation does.
        """
        whole = values
        if surface.paged and not values.get(DIVERSE):
            whole = {**values, LIMIT: None}
        # A digest is short; a request may be long, and would be held beside its answer.
        key = hashlib.blake2b(surface.canonical(whole), digest_size=16).hexdigest()
        result = self._results.get(key)
        if result is None:
            operation = cast("Operation", surface.operation)
            result = operation.function(surface.request(whole), self.registry)
            self._results.keep(key, result, _ENTRY + result.count * (1 if surface.paged else _ROW))
        # As `ResultInParts` has it; to ask for the protocol takes long.
        if whole is not values and not hasattr(result, "part"):
            message = f"{surface.operation.name} has a limit, and its result no parts"
            raise TypeError(message)
        return result

    def worked_out(self, surface: Surface, values: Values, work: Callable[[], Any]) -> Any:  # noqa: ANN401 - what the work gives
        """What some work gives, within the bounds of the service.

        Raises:
            ProblemError: The work raised an error of the library, or took too long.
        """
        limit = self.settings.time_limit_s
        try:
            with time_limited(limit), rows_bounded(self.settings.row_bound):
                return work()
        except GripwrightError as error:
            try:
                with time_limited(limit):
                    problem = problem_of(error, surface, values, self.registry)
            except GripwrightError as later:
                problem = problem_of(later, surface, values, self.registry)
            raise ProblemError(problem) from error

    @contextlib.contextmanager
    def rendering(self) -> Iterator[None]:
        """Render a sound, which takes long, as one of so many as may be at one time.

        Raises:
            ProblemError: So many are being rendered already.
        """
        if not self._renderings.acquire(blocking=False):
            raise ProblemError(BUSY.problem(), {"Retry-After": _LATER_S})
        try:
            yield
        finally:
            self._renderings.release()

    @functools.cached_property
    def _loaded(self) -> Registry:
        return self._load()

    def _installed(self) -> Registry:
        registry = gripwright.load_registry(disabled=self.settings.disabled)
        for failure in registry.failures:
            sys.stderr.write(f"Warning: {failure}\n")
        return registry
