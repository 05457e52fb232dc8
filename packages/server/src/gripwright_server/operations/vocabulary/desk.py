"""The desk at which a vocabulary is worked on: its file, the moment, and the plugins."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import attrs

from gripwright_server.operations.operation import (
    Declaration,
    Operation,
    RegistrySource,
    Result,
)
from gripwright_server.store import Store, StoreError


def new_id() -> str:
    """A name that nothing else has."""
    return uuid.uuid4().hex


@attrs.frozen(kw_only=True)
class Desk:
    """What an operation on a vocabulary works with, beside its request.

    Args:
        path: The file of the store.
        now: The moment, with the player's time zone.
        registry: Gives the plugins when they are first needed.
        new_id: Gives names to what has none.

    Example:
        >>> from datetime import UTC
        >>> from gripwright import load_registry
        >>> now = datetime(2026, 1, 5, 20, tzinfo=UTC)
        >>> desk = Desk(path=Path("vocabulary.db"), now=now, registry=load_registry)
        >>> desk.now.hour
        20
    """

    path: Path
    now: datetime
    registry: RegistrySource
    new_id: Callable[[], str] = new_id

    def store(self) -> Store:
        """The store, which is there already.

        Raises:
            StoreError: There is none, or it cannot be read.
        """
        try:
            return Store.open(self.path, create=False)
        except StoreError as error:
            if error.fault != "missing":
                raise
            reason = f"{error.reason}; the command vocabulary begin makes one"
            raise StoreError(path=error.path, fault="missing", reason=reason) from None

    def new_store(self) -> Store:
        """The store, which is made where there is none.

        Raises:
            StoreError: It cannot be made, or not be read.
        """
        return Store.open(self.path)


@attrs.frozen(kw_only=True)
class StoreOperation(Declaration):
    """One thing that Gripwright does with a vocabulary that is kept.

    Args:
        function: From a request and the desk to the result.
        writes: Whether it changes the store.

    Example:
        >>> from gripwright_server.operations.vocabulary import VOCABULARY
        >>> all(isinstance(one, StoreOperation) for one in VOCABULARY)
        True
    """

    group: str = "vocabulary"
    function: Callable[[Any, Desk], Result]
    writes: bool = False

    def at(self, path: Path, now: datetime, new_id: Callable[[], str] = new_id) -> Operation:
        """The same as an operation like any other, for one file and one moment.

        Args:
            path: The file of the store.
            now: The moment, with the player's time zone.
            new_id: Gives names to what has none.

        Example:
            >>> from datetime import UTC
            >>> from gripwright_server.operations.vocabulary import VOCABULARY
            >>> moment = datetime(2026, 1, 5, 20, tzinfo=UTC)
            >>> VOCABULARY[0].at(Path("mine.db"), moment).full_name
            'vocabulary-add'
        """

        def function(request: object, registry: RegistrySource) -> Result:
            desk = Desk(path=path, now=now, registry=registry, new_id=new_id)
            return self.function(request, desk)

        declared = {field.name: getattr(self, field.name) for field in attrs.fields(Declaration)}
        return Operation(function=function, **declared)
