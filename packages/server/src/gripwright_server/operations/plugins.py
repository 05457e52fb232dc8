"""The plugins: what each gives, and what is wrong with those that failed."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from gripwright_server.operations.operation import Operation, RegistrySource

if TYPE_CHECKING:
    from gripwright.plugins import PluginInfo, Registry


@attrs.frozen(kw_only=True)
class PluginsRequest:
    """A request for every plugin."""


@attrs.frozen(kw_only=True)
class PluginRow:
    """A row: one plugin.

    Args:
        name: Name of the plugin.
        distribution: The distribution that brings it, or None.
        version: Its version, or None.
        entry_point: What its entry point names, or None.
        status: ``"in use"``, ``"switched off"`` or ``"set aside"``.
        instruments: Ids of its instruments.
        strategies: Names of its voicing strategies.
        rhythm_families: Names of its rhythm families.
        exporters: Names of its exporters.
        failures: What is wrong with it, one sentence each.
    """

    name: str
    distribution: str | None
    version: str | None
    entry_point: str | None
    status: str
    instruments: tuple[str, ...]
    strategies: tuple[str, ...]
    rhythm_families: tuple[str, ...]
    exporters: tuple[str, ...]
    failures: tuple[str, ...]


@attrs.frozen
class PluginsResult:
    """Every plugin that was found, in use or not.

    Args:
        registry: The registry that found them.
    """

    registry: "Registry"

    @property
    def count(self) -> int:
        """Plugins found in all."""
        return len(self.registry.plugins)

    @property
    def returned(self) -> int:
        """Plugins that `rows` yields: all of them."""
        return len(self.registry.plugins)

    @property
    def warnings(self) -> tuple[str, ...]:
        """None: each row holds what is wrong with its plugin."""
        return ()

    def rows(self) -> Iterator[PluginRow]:
        """One row a plugin."""
        return (self._row(plugin) for plugin in self.registry.plugins)

    def _row(self, plugin: "PluginInfo") -> PluginRow:
        status = "switched off" if not plugin.enabled else "in use"
        return PluginRow(
            name=plugin.name,
            distribution=plugin.distribution,
            version=plugin.version,
            entry_point=plugin.entry_point,
            status="set aside" if plugin.set_aside else status,
            instruments=plugin.instruments,
            strategies=plugin.strategies,
            rhythm_families=plugin.rhythm_families,
            exporters=plugin.exporters,
            failures=tuple(
                str(failure)
                for failure in self.registry.failures
                if (failure.plugin.name, failure.plugin.entry_point)
                == (plugin.name, plugin.entry_point)
            ),
        )


def plugins(request: PluginsRequest, registry: RegistrySource) -> PluginsResult:
    """List every plugin that was found, by name."""
    del request
    return PluginsResult(registry())


PLUGINS: Final = Operation(
    name="plugins",
    summary="List the plugins, what each gives, and which failed",
    collection="plugins",
    request=PluginsRequest,
    function=plugins,
    result=PluginsResult,
    row=PluginRow,
)
"""The list of plugins as an operation."""
