"""The core's own plugin: its strategies and its JSON, given as a stranger gives their own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright.neck.strategies import BUILTIN_STRATEGIES
from gripwright.plugins.hookspecs import hookimpl
from gripwright.score.exporter import JsonExporter

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright.neck.recipe import VoicingStrategy
    from gripwright.plugins.kinds import Exporter


@hookimpl
def gripwright_voicing_strategies() -> Iterable[VoicingStrategy]:
    """Give the strategies of the core."""
    return BUILTIN_STRATEGIES


@hookimpl
def gripwright_exporters() -> Iterable[Exporter]:
    """Give the score's own JSON."""
    return (JsonExporter(),)
