"""The plugin host: hooks, the kinds of value that they give, and the registry that collects them.

A plugin is a module or object whose functions, marked by `hookimpl`, carry the names of the hooks
in `Hooks`. An installed distribution offers one by an entry point in the group ``gripwright``;
`load_registry` finds, calls and checks them all. Nothing happens at import.
"""

from gripwright.meter.family import RhythmFamily
from gripwright.named import Named
from gripwright.plugins.hookspecs import Hooks, hookimpl
from gripwright.plugins.kinds import Exporter, ReadingExporter
from gripwright.plugins.plugin import PluginFailure, PluginInfo
from gripwright.plugins.registry import Registry, load_registry

__all__ = [
    "Exporter",
    "Hooks",
    "Named",
    "PluginFailure",
    "PluginInfo",
    "ReadingExporter",
    "Registry",
    "RhythmFamily",
    "hookimpl",
    "load_registry",
]
