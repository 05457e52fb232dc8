"""Finding the plugins that installed distributions offer, without importing any of them."""

from __future__ import annotations

import re
from collections.abc import Callable
from importlib.metadata import distributions
from typing import TYPE_CHECKING, Final

import attrs

from gripwright.plugins.hookspecs import PROJECT
from gripwright.plugins.host import fault_of
from gripwright.plugins.plugin import PluginFailure, PluginInfo

if TYPE_CHECKING:
    from collections.abc import Iterator
    from importlib.metadata import Distribution

_UNREADABLE: Final = "(unreadable metadata)"


@attrs.frozen
class Candidate:
    """A plugin that can be loaded.

    Args:
        info: What is known of it beforehand.
        load: Imports it and returns it; may raise anything.
    """

    info: PluginInfo
    load: Callable[[], object]


def find_candidates() -> tuple[tuple[Candidate, ...], tuple[PluginFailure, ...]]:
    """Return the plugins of the installed distributions, and what could not be read.

    Where a distribution is on the path twice, the first counts, as it does for imports.

    Returns:
        Candidates in no particular order, and failures.
    """
    found: dict[tuple[str, str], Candidate] = {}
    failures: list[PluginFailure] = []
    for distribution in distributions():
        try:
            for candidate in _candidates_of(distribution):
                found.setdefault(_identity(candidate, len(found)), candidate)
        except Exception as error:  # noqa: BLE001 - metadata of strangers may break in any way
            if _is_ours(distribution):
                name, version = _name_and_version(distribution)
                info = PluginInfo("(unknown)", name, version, set_aside=True)
                reason = f"its entry points cannot be read: {fault_of(error)}"
                failures.append(PluginFailure(info, None, reason, error))
    return tuple(found.values()), tuple(failures)


def _identity(candidate: Candidate, number: int) -> tuple[str, str]:
    """Return what two sightings of one plugin share: normalised distribution and name."""
    source = candidate.info.distribution or ""
    if source == _UNREADABLE:
        source = f"{_UNREADABLE} {number}"
    return re.sub(r"[-_.]+", "-", source).lower(), candidate.info.name


def _candidates_of(distribution: Distribution) -> Iterator[Candidate]:
    entry_points = distribution.entry_points.select(group=PROJECT)
    if not entry_points:
        return
    name, version = _name_and_version(distribution)
    for entry_point in entry_points:
        info = PluginInfo(entry_point.name, name, version, entry_point.value)
        yield Candidate(info, entry_point.load)


def _is_ours(distribution: Distribution) -> bool:
    """Tell whether a distribution with broken entry points concerns this library at all."""
    try:
        text = distribution.read_text("entry_points.txt") or ""
    except Exception:  # noqa: BLE001 - nothing can be known, so it had better be said
        return True
    return f"[{PROJECT}]" in text


def _name_and_version(distribution: Distribution) -> tuple[str, str | None]:
    try:
        metadata = distribution.metadata
        name, version = metadata["Name"], metadata["Version"]
    except Exception:  # noqa: BLE001 - metadata of strangers may break in any way
        return _UNREADABLE, None
    return name or _UNREADABLE, version
