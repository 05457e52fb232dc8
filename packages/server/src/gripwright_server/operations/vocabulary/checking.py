"""The check of a store, as an operation."""

from collections.abc import Iterator
from typing import Any, Final

import attrs

from gripwright_server.operations.option import option
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation


@attrs.frozen(kw_only=True)
class StoreCheckRequest:
    """Whether to mend what can be mended."""

    rebuild: bool = option(
        help="work out from the log of reviews when each grip is due, before the check",
        default=False,
    )


@attrs.frozen(kw_only=True)
class StoreFaultRow:
    """A row: one thing that is wrong.

    Args:
        sentence: What.
    """

    sentence: str


@attrs.frozen
class StoreCheckResult:
    """What is wrong with a store.

    Args:
        path: The file.
        faults: Everything that is wrong, a sentence each.
        counts: How many entries and reviews were looked at, by their words.
        rebuilt: How many schedules were worked out anew; None if none were to be.
    """

    path: str
    faults: tuple[str, ...]
    counts: dict[str, int]
    rebuilt: int | None

    @property
    def count(self) -> int:
        """Faults."""
        return len(self.faults)

    @property
    def returned(self) -> int:
        """Faults that `rows` yields: all."""
        return len(self.faults)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    @property
    def failed(self) -> bool:
        """Whether anything is wrong."""
        return bool(self.faults)

    @property
    def facts(self) -> dict[str, Any]:
        """Whether it is sound, how much was looked at, and what was worked out anew."""
        return {"sound": not self.faults, **self.counts, "rebuilt": self.rebuilt}

    def rows(self) -> Iterator[StoreFaultRow]:
        """One row a fault."""
        return (StoreFaultRow(sentence=sentence) for sentence in self.faults)


def check(request: StoreCheckRequest, desk: Desk) -> StoreCheckResult:
    """Check the file, each grip against what is worked out of it, each schedule against the log.

    Raises:
        StoreError: The store cannot be read at all.
    """
    with desk.store() as store:
        rebuilt = store.rebuild() if request.rebuild else None
        faults = store.check()
        # What is damaged cannot be counted.
        counts = {} if faults else {"entries": len(store.names()), "reviews": len(store.reviews())}
        return StoreCheckResult(str(store.path), faults, counts, rebuilt)


CHECK: Final = StoreOperation(
    name="check",
    summary="Check the file and everything in it",
    collection="faults",
    request=StoreCheckRequest,
    function=check,
    result=StoreCheckResult,
    row=StoreFaultRow,
    writes=True,
)
"""The check as an operation."""
