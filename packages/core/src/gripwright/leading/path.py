"""The cheapest path through layers of candidates, exactly, by dynamic programming."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

Steps = Callable[[int], NDArray[np.int32]]
"""The costs of the steps from a layer to the next one, (rows, next rows)."""

_HALF_OF_32_BITS: Final = (1 << 30) - 1


def cheapest_path(nodes: Sequence[NDArray[np.int32]], steps: Steps) -> tuple[int, tuple[int, ...]]:
    """The cheapest way from the first layer to the last, one row a layer.

    Of equal ways the one with the lowest rows, from the last layer back. Memory is that of one
    step and of a row number for each candidate.

    Args:
        nodes: For each layer what its rows cost, (rows,) each.
        steps: The costs of steps from layer i to layer i + 1.

    Returns:
        The cost in all and the row of each layer.

    Example:
        >>> layers = [np.array([0, 5], np.int32), np.array([1, 0], np.int32)]
        >>> cheapest_path(layers, lambda _: np.array([[9, 9], [1, 1]], np.int32))
        (6, (1, 1))
    """
    return _traced(*_forward(nodes, steps, None))


def cheapest_loop(nodes: Sequence[NDArray[np.int32]], steps: Steps) -> tuple[int, tuple[int, ...]]:
    """The cheapest way round: the step from the last layer to the first counts too.

    Each row of the first layer bounds from below what a loop through it costs, by the cheapest
    open path from there; rows are tried from the lowest bound on until no bound is lower than
    the best loop found, so that the answer is exact.

    Args:
        nodes: For each layer what its rows cost, (rows,) each.
        steps: The costs of steps from layer i to the next, the last one's next being the first.

    Example:
        >>> layers = [np.array([0, 0], np.int32), np.array([0, 0], np.int32)]
        >>> tables = [np.array([[1, 5], [5, 2]], np.int32), np.array([[9, 5], [5, 1]], np.int32)]
        >>> cheapest_loop(layers, lambda layer: tables[layer])
        (3, (1, 1))
    """
    last = len(nodes) - 1
    closing = steps(last)
    if last == 0:
        costs = nodes[0].astype(np.int64) + np.diagonal(closing)
        row = int(np.argmin(costs))
        return int(costs[row]), (row,)
    bound = nodes[last].astype(np.int64) + closing.min(axis=1)
    for layer in range(last - 1, -1, -1):
        bound = nodes[layer] + (steps(layer) + bound[None, :]).min(axis=1)
    best: tuple[int, tuple[int, ...]] | None = None
    for row in np.argsort(bound, kind="stable").tolist():
        if best is not None and bound[row] >= best[0]:
            break
        reached, back = _forward(nodes, steps, row)
        found = _traced(reached + closing[:, row], back)
        if best is None or found[0] < best[0]:
            best = found
    if best is None:
        message = "no layer can be empty"
        raise ValueError(message)
    return best


def _forward(
    nodes: Sequence[NDArray[np.int32]], steps: Steps, start: int | None
) -> tuple[NDArray[np.int64], list[NDArray[np.int32]]]:
    """The cheapest cost of reaching each row of the last layer, and the rows before.

    From one row of the first layer where `start` is given, else from any.
    """
    back: list[NDArray[np.int32]] = []
    reached = nodes[0].astype(np.int64)
    for layer in range(1, len(nodes)):
        ways = steps(layer - 1)
        if layer == 1 and start is not None:
            came = np.full(ways.shape[1], start, np.int32)
        else:
            # Relative to the cheapest row, sums mostly fit 32 bits, which is much faster.
            apart: NDArray[np.signedinteger] = reached - reached.min()
            if max(int(apart.max()), int(ways.max())) <= _HALF_OF_32_BITS:
                apart = apart.astype(np.int32)
            came = (ways + apart[:, None]).argmin(axis=0).astype(np.int32)
        back.append(came)
        reached = reached[came] + ways[came, np.arange(len(came))] + nodes[layer]
    return reached, back


def _traced(
    reached: NDArray[np.int64], back: list[NDArray[np.int32]]
) -> tuple[int, tuple[int, ...]]:
    row = int(np.argmin(reached))
    cost, rows = int(reached[row]), [row]
    for came in reversed(back):
        rows.append(int(came[rows[-1]]))
    return cost, tuple(reversed(rows))
