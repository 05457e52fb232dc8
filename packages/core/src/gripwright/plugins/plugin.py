"""What is known of a plugin: where it comes from, what it gives, how it failed."""

from __future__ import annotations

import attrs


@attrs.frozen
class PluginInfo:
    """One plugin that was found, whether it is in use or not.

    Args:
        name: Its name: that of its entry point, or the one the caller gave.
        distribution: The distribution that brings it; None for one given by the caller.
        version: That distribution's version, where it can be read.
        entry_point: What the entry point names, such as ``"gripwright_tunings.plugin"``; None for
            one given by the caller.
        enabled: False where it was switched off; it is then not even imported.
        set_aside: True where it failed, so that nothing of it is used.
        instruments: The ids of the instruments it gives, in its order.
        strategies: The names of the voicing strategies it gives.
        rhythm_families: The names of the rhythm families it gives.
        exporters: The names of the exporters it gives.

    Example:
        >>> from gripwright import load_registry
        >>> info = load_registry().plugins[0]
        >>> info.name, info.distribution, info.exporters
        ('builtins', 'gripwright', ('json',))
    """

    name: str
    distribution: str | None = None
    version: str | None = None
    entry_point: str | None = None
    enabled: bool = True
    set_aside: bool = False
    instruments: tuple[str, ...] = ()
    strategies: tuple[str, ...] = ()
    rhythm_families: tuple[str, ...] = ()
    exporters: tuple[str, ...] = ()

    @property
    def giver(self) -> str:
        """The plugin in words, for messages.

        Example:
            >>> PluginInfo("sample", "sample-plugin", "1.0", "sample.plugin").giver
            "plugin 'sample' (sample-plugin 1.0, entry point sample.plugin)"
        """
        source = " ".join(part for part in (self.distribution, self.version) if part)
        place = f"entry point {self.entry_point}" if self.entry_point else ""
        origin = ", ".join(part for part in (source, place) if part) or "given by the caller"
        return f"plugin {self.name!r} ({origin})"


@attrs.frozen
class PluginFailure:
    """One fault of one plugin.

    Args:
        plugin: The plugin, as far as it is known.
        hook: The hook concerned; None where the fault is not in a hook.
        reason: What is wrong, in words.
        cause: The error behind it, where there is one, for its traceback.

    Example:
        >>> print(PluginFailure(PluginInfo("sample"), "gripwright_exporters", "raised KeyError"))
        plugin 'sample' (given by the caller), hook gripwright_exporters: raised KeyError
    """

    plugin: PluginInfo
    hook: str | None
    reason: str
    cause: BaseException | None = attrs.field(default=None, eq=False, repr=False)

    def __str__(self) -> str:
        place = f", hook {self.hook}" if self.hook else ""
        return f"{self.plugin.giver}{place}: {self.reason}"
