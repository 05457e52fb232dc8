"""Cheapest paths and loops against networkx, and against looking at every path.

Outside reference: networkx (BSD), ``shortest_path_length`` by Bellman and Ford, on the same costs.
"""

from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from gripwright.leading.path import cheapest_loop, cheapest_path
from tests.core.leading.scalar_model import cheapest_way, way_cost

LARGEST = 2**31 - 1
Nodes = list[list[int]]
Tables = list[list[list[int]]]


@st.composite
def layered(
    draw: st.DrawFn, least: int = -50, most: int = 200, layers: int = 5, rows: int = 5
) -> tuple[Nodes, Tables]:
    """Draw what rows cost, and what steps cost between layers and from the last to the first."""
    sizes = draw(st.lists(st.integers(1, rows), min_size=1, max_size=layers))

    def costs(number: int) -> list[int]:
        cost = st.integers(least, most)
        return draw(st.lists(cost, min_size=number, max_size=number))

    nodes = [costs(size) for size in sizes]
    steps = [
        [costs(sizes[(index + 1) % len(sizes)]) for _ in range(size)]
        for index, size in enumerate(sizes)
    ]
    return nodes, steps


def arrays(costs: list[Any]) -> list[NDArray[np.int32]]:
    """Return costs as the library takes them."""
    return [np.array(layer, np.int32) for layer in costs]


def open_path(nodes: Nodes, steps: Tables) -> tuple[int, tuple[int, ...]]:
    """Run the open search."""
    return cheapest_path(arrays(nodes), arrays(steps).__getitem__)


def closed_path(nodes: Nodes, steps: Tables) -> tuple[int, tuple[int, ...]]:
    """Run the search for loops."""
    return cheapest_loop(arrays(nodes), arrays(steps).__getitem__)


def every_way(nodes: Nodes) -> list[tuple[int, ...]]:
    """Return all ways, one row a layer."""
    return list(product(*(range(len(layer)) for layer in nodes)))


@given(layered())
def test_the_cheapest_path_costs_what_networkx_finds(graph: tuple[Nodes, Tables]) -> None:
    """And the rows that are given cost what is said."""
    nodes, steps = graph
    cost, rows = open_path(nodes, steps)
    assert cost == cheapest_way(nodes, steps)
    assert cost == way_cost(nodes, steps, rows, loop=False)


@given(layered())
def test_the_cheapest_loop_is_the_best_over_all_starts(graph: tuple[Nodes, Tables]) -> None:
    """Networkx finds the way round from each row of the first layer back to it."""
    nodes, steps = graph
    cost, rows = closed_path(nodes, steps)
    assert cost == min(cheapest_way(nodes, steps, start) for start in range(len(nodes[0])))
    assert cost == way_cost(nodes, steps, rows, loop=True)


@given(layered(layers=4, rows=4))
def test_paths_and_loops_are_the_best_of_all_ways(graph: tuple[Nodes, Tables]) -> None:
    """Every way is looked at."""
    nodes, steps = graph
    ways = every_way(nodes)
    assert open_path(nodes, steps)[0] == min(
        way_cost(nodes, steps, rows, loop=False) for rows in ways
    )
    assert closed_path(nodes, steps)[0] == min(
        way_cost(nodes, steps, rows, loop=True) for rows in ways
    )


@given(layered(least=0))
def test_a_loop_costs_no_less_than_the_open_path(graph: tuple[Nodes, Tables]) -> None:
    """Where no step pays one back, going home costs something or nothing."""
    assert closed_path(*graph)[0] >= open_path(*graph)[0]


@given(layered(least=0, most=1, layers=4, rows=3))
def test_of_equal_paths_the_lowest_rows_from_the_end_are_taken(graph: tuple[Nodes, Tables]) -> None:
    """Costs of 0 and 1 are equal often."""
    nodes, steps = graph
    cost, rows = open_path(nodes, steps)
    equal = [way for way in every_way(nodes) if way_cost(nodes, steps, way, loop=False) == cost]
    assert rows == min(equal, key=lambda way: way[::-1])


@given(layered(least=LARGEST - 9, most=LARGEST, layers=7, rows=3))
def test_the_largest_costs_do_not_overflow(graph: tuple[Nodes, Tables]) -> None:
    """Each part fits 32 bits, their sum need not."""
    nodes, steps = graph
    assert open_path(nodes, steps)[0] == cheapest_way(nodes, steps)
    loops = [cheapest_way(nodes, steps, start) for start in range(len(nodes[0]))]
    assert closed_path(nodes, steps)[0] == min(loops)


def test_a_path_asks_for_each_step_once_and_never_for_the_way_home() -> None:
    """What lets the caller make one table of steps at a time."""
    asked = []
    nodes = arrays([[0, 1]] * 6)

    def steps(index: int) -> NDArray[np.int32]:
        asked.append(index)
        return np.ones((2, 2), np.int32)

    cheapest_path(nodes, steps)
    assert asked == [0, 1, 2, 3, 4]


def test_a_loop_stops_when_no_bound_is_lower() -> None:
    """One start that no other can undercut: bound and search, so each step is made twice."""
    asked = []
    nodes = arrays([[0, 50, 50], [0], [0]])
    tables = arrays([[[1], [1], [1]], [[1]], [[1, 1, 1]]])

    def steps(index: int) -> NDArray[np.int32]:
        asked.append(index)
        return tables[index]

    assert cheapest_loop(nodes, steps) == (3, (0, 0, 0))
    assert sorted(asked) == [0, 0, 1, 1, 2]


def test_a_loop_of_one_chord_pays_the_step_to_itself() -> None:
    """The cheapest grip is not the one that costs most to stay on."""
    assert closed_path([[0, 1]], [[[9, 0], [0, 2]]]) == (3, (1,))


@pytest.mark.parametrize("search", [open_path, closed_path])
def test_costs_are_not_changed(search: Any) -> None:  # noqa: ANN401 - either search
    """The caller may keep its tables."""
    nodes, steps = [[1, 2], [3, 4]], [[[1, 2], [3, 4]], [[5, 6], [7, 8]]]
    kept = arrays(nodes), arrays(steps)
    given_nodes, given_steps = arrays(nodes), arrays(steps)
    {open_path: cheapest_path, closed_path: cheapest_loop}[search](
        given_nodes, given_steps.__getitem__
    )
    for before, after in zip((*kept[0], *kept[1]), (*given_nodes, *given_steps), strict=True):
        assert (before == after).all()
