"""The laws of plugins as a whole: that they load, give something, and say the same anywhere."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Final

import attrs

from gripwright.laws.afresh import asked_afresh
from gripwright.laws.law import Law, demand
from gripwright.plugins.plugin import PluginInfo

_HASH_SEEDS: Final = ("1", "2")
"""Two orders of every set, the same each time that the law is tried."""

_FRESH_S: Final = 90.0
"""Seconds that two processes may take to start and to answer, on a machine that is busy."""

_LONGEST: Final = 60


@attrs.frozen
class Known:
    """What the registry knows of a plugin.

    Args:
        info: The plugin.
        failures: What went wrong with it, a sentence each.

    Example:
        >>> from gripwright import load_registry
        >>> Known(load_registry().plugins[0]).failures
        ()
    """

    info: PluginInfo
    failures: tuple[str, ...] = ()


def loads(known: Known) -> None:
    """A plugin can be loaded, answers no hook but those there are, and gives what they take."""
    demand(not known.failures, "; ".join(known.failures))


def gives_something(known: Known) -> None:
    """It gives a value at least: its entry point names the module that answers hooks."""
    info = known.info
    given = (info.instruments, info.strategies, info.rhythm_families, info.exporters)
    demand(
        any(given),
        f"it gives nothing{f': no hook is answered in {info.entry_point}' * bool(info.entry_point)}"
        " by a function that is marked with hookimpl and has values to give",
    )


def says_the_same_in_another_process(known: Known) -> None:
    """In a process of its own it answers the same, twice: no order of a set, nothing kept in mind.

    Python gives sets of texts another order in each process; here two processes have two orders
    that are always the same. A plugin that a caller gives as an object is not asked: only what is
    installed can be loaded anew.
    """
    info = known.info
    if info.entry_point is None:
        return
    with ThreadPoolExecutor() as pool:
        rounds = list(pool.map(lambda seed: asked_afresh(info.name, seed), _HASH_SEEDS))
    (first, again), (elsewhere, _) = rounds
    for other, when in ((again, "asked again"), (elsewhere, "in another process")):
        for about, answer in first.items():
            found = other.get(about, answer)
            demand(
                found == answer,
                f"{about}: at first it gives {_cut(answer)}, and {when} {_cut(found)}",
            )


def _cut(answer: str) -> str:
    return answer if len(answer) <= _LONGEST else f"{answer[: _LONGEST - 3]}..."


LAWS: Final = (
    Law.of("plugin", loads),
    Law.of("plugin", gives_something),
    Law.of("plugin", says_the_same_in_another_process, least_s=_FRESH_S),
)
"""Every law of plugins as a whole."""
