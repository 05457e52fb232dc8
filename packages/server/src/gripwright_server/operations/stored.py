"""The way to the operations on a vocabulary, whose libraries are an extra."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright.errors import MissingExtraError

if TYPE_CHECKING:
    from gripwright_server.operations.vocabulary import StoreOperation

EXTRA: Final = "gripwright-server[store]"


def store_operations() -> tuple[StoreOperation, ...]:
    """The operations on a vocabulary, by name; loaded at the first call.

    Raises:
        MissingExtraError: The extra ``store`` is not installed.
    """
    try:
        # Late on purpose: few commands need them, and they need a database.
        from gripwright_server.operations.vocabulary import VOCABULARY  # noqa: PLC0415
    except ModuleNotFoundError as error:
        package = (error.name or "").partition(".")[0]
        if package.startswith("gripwright"):
            raise
        raise MissingExtraError(library=package, extra=EXTRA) from error
    return VOCABULARY
