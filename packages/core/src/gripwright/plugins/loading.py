"""One load of the registry: each plugin loaded and asked in turn, its values kept or set aside."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any, Final, Generic, TypeVar

import attrs

from gripwright.named import Named
from gripwright.plugins import kinds
from gripwright.plugins.host import GUARDED, HookFault, ask, fault_of, new_manager, stray_hooks
from gripwright.plugins.plugin import PluginFailure, PluginInfo
from gripwright.plugins.watch import HangError, Pulse, watched

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright.plugins.discovery import Candidate
    from gripwright.plugins.kinds import Kind

T = TypeVar("T")


class Shelf(Generic[T]):
    """The values of one kind while plugins are asked: what stands, and by whom."""

    def __init__(self, kind: Kind[T]) -> None:
        self.kind: Final = kind
        self.values: Final[dict[str, T]] = {}
        self.givers: Final[dict[str, PluginInfo]] = {}

    def add(self, name: str, value: T, giver: PluginInfo) -> str:
        """Take in a value, or return why not."""
        if name in self.values:
            return (
                f"the {self.kind.noun} name {name!r} is already given by {self.givers[name].giver}"
            )
        self.values[name] = value
        self.givers[name] = giver
        return ""

    def named(self, plugins: Iterable[PluginInfo]) -> Named[T]:
        """Return the values that stand, with a hint for those who miss the usual ones."""
        hint = _hint(self.kind, plugins) if self.kind.usual_from else ""
        return Named(self.values, kind=self.kind.noun, hint=hint)


class Loading:
    """The state of one load of the registry.

    Args:
        failures: What failed before any plugin was loaded.
        time_limit_s: Seconds that loading a plugin, and each of its hooks, may take; None for no
            limit.
    """

    def __init__(
        self, failures: Iterable[PluginFailure], time_limit_s: float | None = None
    ) -> None:
        self._time_limit_s: Final = time_limit_s
        self.plugins: Final[list[PluginInfo]] = []
        self.failures: Final = list(failures)
        self._manager: Final = new_manager()
        self.instruments: Final = Shelf(kinds.INSTRUMENTS)
        self.strategies: Final = Shelf(kinds.STRATEGIES)
        self.rhythm_families: Final = Shelf(kinds.RHYTHM_FAMILIES)
        self.exporters: Final = Shelf(kinds.EXPORTERS)
        # By the fields of PluginInfo.
        self._shelves: Final[dict[str, Shelf[Any]]] = {
            "instruments": self.instruments,
            "strategies": self.strategies,
            "rhythm_families": self.rhythm_families,
            "exporters": self.exporters,
        }

    def take(self, candidate: Candidate) -> None:
        """Load and ask one plugin; keep all it gives, or set it aside."""
        info = candidate.info
        try:
            answers = self._asked_in_time(candidate)
        except _SetAside as fault:
            self.failures.extend(fault.failures)
            self.plugins.append(attrs.evolve(info, set_aside=True))
            return
        given: dict[str, Any] = {
            field: self._kept(field, answer, info) for field, answer in answers.items()
        }
        self.plugins.append(attrs.evolve(info, **given))

    def _asked_in_time(self, candidate: Candidate) -> dict[str, tuple[tuple[str, Any], ...]]:
        """Return a plugin's answers by field; raise `_SetAside` where it takes too long, too."""
        if self._time_limit_s is None:
            return self._asked(candidate, Pulse())
        try:
            return watched(functools.partial(self._asked, candidate), self._time_limit_s)
        except HangError as error:
            hook = error.doing or None
            reason = str(error) if hook else f"cannot be loaded: {error}"
            raise _SetAside(PluginFailure(candidate.info, hook, reason, error)) from error

    def _asked(self, candidate: Candidate, pulse: Pulse) -> dict[str, tuple[tuple[str, Any], ...]]:
        """Return a plugin's answers by field; raise `_SetAside` where any of it is at fault."""
        pulse.begin()
        info = candidate.info
        earlier = [other for other in self.plugins if other.name == info.name]
        if earlier:
            raise _SetAside(PluginFailure(info, None, f"its name is taken by {earlier[0].giver}"))
        try:
            plugin = candidate.load()
        except GUARDED as error:
            reason = f"cannot be loaded: {fault_of(error)}"
            raise _SetAside(PluginFailure(info, None, reason, error)) from error
        if plugin is None:
            raise _SetAside(PluginFailure(info, None, "cannot be loaded: it is None"))
        try:
            self._manager.register(plugin, info.name)
            strays = [PluginFailure(info, *stray) for stray in stray_hooks(self._manager, plugin)]
        except GUARDED as error:
            reason = f"cannot be registered: {fault_of(error)}"
            raise _SetAside(PluginFailure(info, None, reason, error)) from error
        self.failures.extend(strays)
        answers: dict[str, tuple[tuple[str, Any], ...]] = {}
        faults: list[PluginFailure] = []
        for field, shelf in self._shelves.items():
            pulse.begin(shelf.kind.hook)
            try:
                answers[field] = ask(self._manager, plugin, shelf.kind)
            except HookFault as fault:
                cause = fault.__cause__ or fault
                faults.append(PluginFailure(info, shelf.kind.hook, str(fault), cause))
        if faults:
            raise _SetAside(*faults)
        return answers

    def _kept(
        self, field: str, answer: Iterable[tuple[str, object]], info: PluginInfo
    ) -> tuple[str, ...]:
        """Put values on their shelf; return the names that were free."""
        shelf = self._shelves[field]
        names: list[str] = []
        for name, value in answer:
            refusal = shelf.add(name, value, info)
            if refusal:
                self.failures.append(PluginFailure(info, shelf.kind.hook, refusal))
            else:
                names.append(name)
        return tuple(names)


class _SetAside(Exception):  # noqa: N818 - never leaves this module
    """A plugin at fault, of which nothing is used."""

    def __init__(self, *failures: PluginFailure) -> None:
        super().__init__(*failures)
        self.failures: Final = failures


def _hint(kind: Kind[Any], plugins: Iterable[PluginInfo]) -> str:
    """Say why the usual values of a kind are missing; empty where they are not."""
    bringer = f"the usual {kind.noun}s come with the distribution {kind.usual_from}"
    usual = [info for info in plugins if info.distribution == kind.usual_from]
    if not usual:
        return f"{bringer}, which is not installed"
    if not usual[0].enabled:
        return f"{bringer}, whose plugin {usual[0].name!r} is switched off"
    if usual[0].set_aside:
        return f"{bringer}, whose plugin {usual[0].name!r} failed"
    return ""
