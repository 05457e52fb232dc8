"""The cost of a step as its definition says it, one pair of voicings at a time.

No arrays and none of the library's code, but for how awkward a grip is, which the tests of the
teaching order hold to account.
"""

from __future__ import annotations

from itertools import combinations, pairwise, product
from typing import TYPE_CHECKING

import networkx as nx  # type: ignore[import-untyped]

from gripwright.leading import LineWeights, StepCost
from gripwright.neck.teaching import grip_weight

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from gripwright import Voicing, VoicingTable

THOUSANDTHS = 1000


def uncrossed_motion(one: Sequence[int], other: Sequence[int], stranger: int) -> int:
    """Try every choice of the voices that go on, and match them in order."""
    fewer, more = sorted((sorted(one), sorted(other)), key=len)
    spare = len(more) - len(fewer)
    return stranger * spare + min(
        sum(abs(low - high) for low, high in zip(fewer, chosen, strict=True))
        for chosen in combinations(more, len(fewer))
    )


def place_of(voicing: Voicing, weights: LineWeights) -> int | None:
    """Return the weighed middle of the hand, None where no string is fretted."""
    places = [
        voicing.instrument.place_mm(string, fret)
        for string, fret in enumerate(voicing.frets)
        if fret > 0
    ]
    if not places:
        return None
    return round((min(places) + max(places)) * weights.travel / 2 * THOUSANDTHS)


def travel_cost(before: Voicing, here: Voicing, weights: LineWeights) -> int:
    """Return the way of the hand; a grip without fretted strings neither costs nor earns."""
    start, end = place_of(before, weights), place_of(here, weights)
    return 0 if start is None or end is None else abs(end - start)


def top_cost(before: Voicing, here: Voicing, top: str, weights: LineWeights) -> int:
    """Return what the top line pays for its step."""
    up = max(here.midi) - max(before.midi)
    semitones = {
        "free": 0,
        "smooth": abs(up),
        "held": 4 * abs(up),
        "rising": abs(up) + 4 * max(1 - up, 0),
        "falling": abs(up) + 4 * max(1 + up, 0),
    }[top]
    return round(semitones * weights.top * THOUSANDTHS)


def step_cost(
    before: Voicing | None, here: Voicing, ease: int, top: str, weights: LineWeights
) -> StepCost:
    """Return the parts of a step; the first of an open line has no way to get there."""
    if before is None:
        return StepCost(0, 0, 0, ease)
    motion = uncrossed_motion(before.midi, here.midi, weights.stranger)
    return StepCost(
        round(motion * weights.motion * THOUSANDTHS),
        travel_cost(before, here, weights),
        top_cost(before, here, top, weights),
        ease,
    )


def ease_costs(table: VoicingTable, weights: LineWeights) -> list[int]:
    """Return how awkward each voicing is, weighed."""
    return [
        round(float(weight) * weights.ease * THOUSANDTHS) for weight in grip_weight(table).tolist()
    ]


class Layered:
    """Voicings in layers, with what steps between them cost by the scalar definition."""

    def __init__(
        self,
        tables: Sequence[VoicingTable],
        weights: LineWeights,
        top: str = "smooth",
        extra: Callable[[Voicing], int] = lambda _: 0,
    ) -> None:
        self.layers = [list(table) for table in tables]
        self.nodes = [
            [ease + extra(own) for own, ease in zip(layer, ease_costs(table, weights), strict=True)]
            for layer, table in zip(self.layers, tables, strict=True)
        ]
        count = len(tables)
        self.steps = [
            [
                [
                    step_cost(before, here, 0, top, weights).total
                    for here in self.layers[(index + 1) % count]
                ]
                for before in self.layers[index]
            ]
            for index in range(count)
        ]

    def cheapest(self) -> int:
        """Return what the cheapest open line costs, by networkx."""
        return cheapest_way(self.nodes, self.steps)

    def cheapest_round(self) -> int:
        """Return what the cheapest loop costs, by networkx for each start."""
        return min(
            cheapest_way(self.nodes, self.steps, start=row) for row in range(len(self.layers[0]))
        )

    def tried(self, *, loop: bool) -> int:
        """Return what the cheapest costs when every line is looked at."""
        return min(
            way_cost(self.nodes, self.steps, rows, loop=loop)
            for rows in product(*(range(len(layer)) for layer in self.layers))
        )


def cheapest_way(
    nodes: Sequence[Sequence[int]],
    steps: Sequence[Sequence[Sequence[int]]],
    start: int | None = None,
) -> int:
    """Return the cost of networkx's shortest path; given a start, back to it from the last."""
    graph = nx.DiGraph()
    last = len(nodes) - 1
    for row, cost in enumerate(nodes[0]):
        if start in (None, row):
            graph.add_edge("out", (0, row), weight=cost)
    for index in range(last):
        for row, costs in enumerate(steps[index]):
            for other, cost in enumerate(costs):
                weight = cost + nodes[index + 1][other]
                graph.add_edge((index, row), (index + 1, other), weight=weight)
    for row in range(len(nodes[last])):
        weight = 0 if start is None else steps[last][row][start]
        graph.add_edge((last, row), "home", weight=weight)
    # Not Dijkstra: a grip that is easier than nothing has an ease below zero.
    length: int = nx.shortest_path_length(
        graph, "out", "home", weight="weight", method="bellman-ford"
    )
    return length


def way_cost(
    nodes: Sequence[Sequence[int]],
    steps: Sequence[Sequence[Sequence[int]]],
    rows: Sequence[int],
    *,
    loop: bool,
) -> int:
    """Return what one way costs, added up."""
    cost = sum(layer[row] for layer, row in zip(nodes, rows, strict=True))
    cost += sum(steps[index][row][other] for index, (row, other) in enumerate(pairwise(rows)))
    return cost + (steps[len(nodes) - 1][rows[-1]][rows[0]] if loop else 0)
