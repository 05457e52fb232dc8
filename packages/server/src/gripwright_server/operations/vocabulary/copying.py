"""The whole vocabulary as one document, out and in, as operations."""

from collections.abc import Iterator
from typing import Any, ClassVar, Final

import attrs

from gripwright_server.operations.operation import RefusedError
from gripwright_server.operations.option import option
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.store import Document, DocumentError, Imported


@attrs.frozen(kw_only=True)
class ExportRequest:
    """A request for everything."""


@attrs.frozen(kw_only=True, slots=False)
class ImportRequest:
    """What is brought in."""

    heading: ClassVar[str] = "The document"

    document: str = option(help="an exported vocabulary", positional=True, form="FILE", file=True)


@attrs.frozen(kw_only=True)
class ContentRow:
    """A row: how much there is of one thing.

    Args:
        what: entries, reviews or profile.
        count: How many; of an import, how many are new.
    """

    what: str
    count: int


@attrs.frozen
class ExportResult:
    """Everything that a store holds and that is not worked out.

    Args:
        document: As JSON in ASCII.
        counts: How many entries, reviews and profiles it has.
    """

    document: bytes
    counts: tuple[tuple[str, int], ...]

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

    def rows(self) -> Iterator[ContentRow]:
        """How much there is of each."""
        return (ContentRow(what=what, count=count) for what, count in self.counts)


@attrs.frozen
class ImportResult:
    """What an import brought.

    Args:
        imported: What is new, and what the store has otherwise.
    """

    imported: Imported

    @property
    def count(self) -> int:
        """Kinds of things."""
        return 3

    @property
    def returned(self) -> int:
        """Kinds of things: all."""
        return 3

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the store has otherwise."""
        return tuple(
            f"{name} is otherwise in the store, and stays so" for name in self.imported.differing
        )

    @property
    def facts(self) -> dict[str, Any]:
        """What the store has otherwise."""
        return {"differing": self.imported.differing}

    def rows(self) -> Iterator[ContentRow]:
        """How much is new."""
        imported = self.imported
        yield ContentRow(what="entries", count=imported.entries)
        yield ContentRow(what="reviews", count=imported.reviews)
        yield ContentRow(what="profile", count=int(imported.profile))


def export(request: ExportRequest, desk: Desk) -> ExportResult:
    """Write everything that is not worked out as one document.

    Raises:
        StoreError: The store cannot be read.
    """
    del request
    with desk.store() as store:
        data = store.export()
        counts = (
            ("entries", len(store.names())),
            ("reviews", len(store.reviews())),
            ("profile", int(store.profile() is not None)),
        )
        return ExportResult(data, counts)


def bring_in(request: ImportRequest, desk: Desk) -> ImportResult:
    """Add what is new of an exported document, in one step; what is there stays.

    Raises:
        RefusedError: The document cannot be read whole; nothing was added.
        ConditionError: An instrument whose name the store knows for one with other strings.
        StoreError: The store cannot be written.
    """
    data = request.document.encode("utf-8", errors="surrogateescape")
    try:
        # Read whole before a store is made for it.
        Document.load(data)
        with desk.new_store() as store:
            return ImportResult(store.bring_in(data))
    except DocumentError as error:
        raise RefusedError(
            field="document",
            sentence=str(error),
            hints=("Nothing of it was taken.",),
            pointer=error.pointer,
        ) from error


EXPORT: Final = StoreOperation(
    name="export",
    summary="Export everything as one JSON document",
    collection="contents",
    request=ExportRequest,
    function=export,
    result=ExportResult,
    row=ContentRow,
    formats=("json",),
)
"""The export as an operation."""

IMPORT: Final = StoreOperation(
    name="import",
    summary="Import an exported vocabulary: what is new of it",
    collection="contents",
    request=ImportRequest,
    function=bring_in,
    result=ImportResult,
    row=ContentRow,
    writes=True,
)
"""The import as an operation."""
