"""The registry: what all plugins give, by name, with an account of those that failed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from importlib.metadata import PackageNotFoundError, version
from typing import Final

import attrs

from gripwright.errors import PluginError, UnknownNameError
from gripwright.meter.family import RhythmFamily
from gripwright.named import nearest_names
from gripwright.neck.instrument import Instrument
from gripwright.neck.recipe import VoicingStrategy
from gripwright.plugins import builtins
from gripwright.plugins.discovery import Candidate, find_candidates
from gripwright.plugins.hookspecs import PROJECT
from gripwright.plugins.kinds import Exporter
from gripwright.plugins.loading import Loading
from gripwright.plugins.plugin import PluginFailure, PluginInfo

_BUILTINS: Final = "builtins"


@attrs.frozen(eq=False)
class Registry:
    """What the plugins give, by name; built by `load_registry` and never changed.

    Args:
        instruments: Instruments by id.
        strategies: Voicing strategies by name.
        rhythm_families: Families of rhythm patterns by name.
        exporters: Writers of file formats by name.
        plugins: Every plugin found, in the order in which they were asked.
        failures: What went wrong, in the same order.

    Looking up an unknown name raises `UnknownNameError` (a `LookupError`) with the nearest names;
    where the distribution that brings the usual ones is not in use, the error says which.

    Example:
        >>> from gripwright import Instrument, load_registry
        >>> registry = load_registry()
        >>> "any" in registry.strategies
        True
    """

    instruments: Mapping[str, Instrument]
    strategies: Mapping[str, VoicingStrategy]
    rhythm_families: Mapping[str, RhythmFamily]
    exporters: Mapping[str, Exporter]
    plugins: tuple[PluginInfo, ...]
    failures: tuple[PluginFailure, ...]


def load_registry(
    *,
    disabled: Iterable[str] = (),
    strict: bool = False,
    plugins: Iterable[tuple[str, object]] = (),
    time_limit_s: float | None = None,
) -> Registry:
    """Find, load and ask all plugins: the core's own first, then the others by name.

    Each is asked alone. One that cannot be loaded, raises, or gives what a hook does not take is
    set aside as a whole and listed in `Registry.failures`. A name already given stays with its
    first giver; the later one is refused and listed, and its plugin's other values stay. An answer
    to a hook that does not exist is listed too.

    Args:
        disabled: Names of plugins to leave out; they are not imported.
        strict: Raise where there is any failure.
        plugins: Plugins beside the installed ones: a name and a module or object for each.
        time_limit_s: Seconds that loading a plugin, and each of its hooks, may take; one that takes
            longer is set aside too. No limit if not given.

    Returns:
        The registry, equal for equal plugins.

    Raises:
        UnknownNameError: `disabled` names a plugin that there is not.
        PluginError: A plugin failed and `strict` is true; all failures are in it.

    Example:
        >>> from gripwright import Instrument, hookimpl, load_registry
        >>> class Small:
        ...     @hookimpl
        ...     def gripwright_instruments(self):
        ...         return [Instrument.from_text("D3 A3 D4", frets=12, scale_mm=500.0, id="small")]
        >>> registry = load_registry(plugins=[("small", Small())])
        >>> registry.instruments["small"].frets
        12
    """
    found, failures = find_candidates()
    given = (_given(name, plugin) for name, plugin in plugins)
    own = PluginInfo(_BUILTINS, PROJECT, _own_version(), builtins.__name__)
    others = sorted(
        (*given, *found), key=lambda other: (other.info.name, other.info.distribution or "")
    )
    loading = Loading(failures, time_limit_s)
    off = _switched_off(disabled, (_BUILTINS, *(other.info.name for other in others)))
    for candidate in (Candidate(own, lambda: builtins), *others):
        if candidate.info.name in off:
            loading.plugins.append(attrs.evolve(candidate.info, enabled=False))
        else:
            loading.take(candidate)
    if strict and loading.failures:
        sentences = tuple(str(failure) for failure in loading.failures)
        raise PluginError(failures=sentences) from loading.failures[0].cause
    return Registry(
        instruments=loading.instruments.named(loading.plugins),
        strategies=loading.strategies.named(loading.plugins),
        rhythm_families=loading.rhythm_families.named(loading.plugins),
        exporters=loading.exporters.named(loading.plugins),
        plugins=tuple(loading.plugins),
        failures=tuple(loading.failures),
    )


def _given(name: str, plugin: object) -> Candidate:
    return Candidate(PluginInfo(name), lambda: plugin)


def _own_version() -> str | None:
    try:
        return version(PROJECT)
    except PackageNotFoundError:
        # Run from a source folder on the path, without installation.
        return None


def _switched_off(disabled: Iterable[str], known: tuple[str, ...]) -> frozenset[str]:
    """Return the names to leave out, all of them known."""
    # A single name is a string, hence an iterable of letters: nobody means that.
    off = (disabled,) if isinstance(disabled, str) else tuple(disabled)
    for name in off:
        if name not in known:
            raise UnknownNameError(kind="plugin", name=name, nearest=nearest_names(name, known))
    return frozenset(off)
