"""The check of a store, as an operation."""

from collections.abc import Iterator
from typing import Any, Final

import attrs

from gripwright.errors import GripwrightError
from gripwright_server.operations.option import option
from gripwright_server.operations.vocabulary.copying import ContentRow
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation


@attrs.frozen(kw_only=True)
class StoreCheckRequest:
    """Whether to mend what can be mended."""

    rebuild: bool = option(
        help="work out from the log of reviews when each grip is due, before the check",
        default=False,
    )


class UnsoundStoreError(GripwrightError, RuntimeError):
    """A store in which something is wrong.

    Args:
        path: The file.
        faults: Everything that is wrong, a sentence each.

    Example:
        >>> print(UnsoundStoreError(path="mine.db", faults=("a page is torn",)))
        the store 'mine.db' is not sound: a page is torn
    """

    path: str
    faults: tuple[str, ...]

    def __init__(self, *, path: str, faults: tuple[str, ...]) -> None:
        super().__init__(
            f"the store {path!r} is not sound: {'; '.join(faults)}", path=path, faults=faults
        )


@attrs.frozen
class StoreCheckResult:
    """A store in which nothing is wrong.

    Args:
        path: The file.
        counts: How many entries and reviews it has.
        rebuilt: How many schedules were worked out anew; None if none were to be.
    """

    path: str
    counts: tuple[tuple[str, int], ...]
    rebuilt: int | None

    @property
    def count(self) -> int:
        """Kinds of things."""
        return len(self.counts)

    @property
    def returned(self) -> int:
        """Kinds of things: all."""
        return len(self.counts)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    @property
    def facts(self) -> dict[str, Any]:
        """The file, that it is sound, and what was worked out anew."""
        return {"store": self.path, "sound": True, "rebuilt": self.rebuilt}

    def rows(self) -> Iterator[ContentRow]:
        """How much was looked at."""
        return (ContentRow(what=what, count=count) for what, count in self.counts)


def check(request: StoreCheckRequest, desk: Desk) -> StoreCheckResult:
    """Check the file, each grip against what is worked out of it, each schedule against the log.

    Raises:
        UnsoundStoreError: Something is wrong; holds every fault.
        StoreError: The store cannot be read at all.
    """
    with desk.store() as store:
        rebuilt = store.rebuild() if request.rebuild else None
        faults = store.check()
        if faults:
            raise UnsoundStoreError(path=str(store.path), faults=faults)
        counts = (("entries", len(store.names())), ("reviews", len(store.reviews())))
        return StoreCheckResult(str(store.path), counts, rebuilt)


CHECK: Final = StoreOperation(
    name="check",
    summary="Check the file and everything in it",
    collection="contents",
    request=StoreCheckRequest,
    function=check,
    result=StoreCheckResult,
    row=ContentRow,
    writes=True,
)
"""The check as an operation."""
