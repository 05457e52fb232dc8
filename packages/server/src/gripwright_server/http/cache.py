"""A bounded memory of what was worked out, the least lately used forgotten first."""

from __future__ import annotations

import threading
from collections import OrderedDict
from typing import Final, Generic, TypeVar

Value = TypeVar("Value")


class BoundedCache(Generic[Value]):
    """Values by short key, of which so much is kept as a bound allows; safe among threads.

    Args:
        bound: The greatest sum of weights. A value heavier than half of it is never kept, so that
            one does not drive out all the others.

    Example:
        >>> cache = BoundedCache[str](bound=10)
        >>> for key in ("a", "b", "c"):
        ...     cache.keep(key, "value", weight=4)
        >>> cache.get("a") is None, cache.get("c"), cache.weight
        (True, 'value', 8)
    """

    def __init__(self, bound: int) -> None:
        self._bound: Final = bound
        self._lock: Final = threading.Lock()
        self._held: Final[OrderedDict[str, tuple[Value, int]]] = OrderedDict()
        self._weight = 0

    @property
    def weight(self) -> int:
        """The sum of the weights of what is kept."""
        return self._weight

    def get(self, key: str) -> Value | None:
        """The value of a key, where it is kept."""
        with self._lock:
            if key not in self._held:
                return None
            self._held.move_to_end(key)
            return self._held[key][0]

    def keep(self, key: str, value: Value, weight: int) -> None:
        """Keep a value, and forget as many others as the bound asks for."""
        if weight > self._bound // 2:
            return
        with self._lock:
            if key in self._held:
                self._weight -= self._held.pop(key)[1]
            self._held[key] = (value, weight)
            self._weight += weight
            while self._weight > self._bound:
                _, (_, lost) = self._held.popitem(last=False)
                self._weight -= lost
