"""Calling one plugin's hooks under guard, so that a fault is named and harms nobody else."""

from __future__ import annotations

import inspect
from collections.abc import Iterable
from itertools import islice
from typing import TYPE_CHECKING, Final, TypeVar

import pluggy

from gripwright.named import nearest_names
from gripwright.plugins.hookspecs import PROJECT, Hooks
from gripwright.plugins.kinds import KindError, shown

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from gripwright.plugins.kinds import Kind

T = TypeVar("T")

HOOK_NAMES: Final = tuple(sorted(name for name in vars(Hooks) if name.startswith(f"{PROJECT}_")))

# Far above any sensible plugin: an answer without end must not hang its host.
_MOST_VALUES: Final = 10_000

_LONGEST_FAULT: Final = 300

# What a stranger's code may raise. A script that leaves by sys.exit when imported is a fault of
# the plugin; an interrupt by the user is not.
GUARDED: Final = (Exception, SystemExit)


class HookFault(Exception):  # noqa: N818 - never leaves the package: it becomes a PluginFailure
    """What is wrong with a plugin's answer to a hook."""


def new_manager() -> pluggy.PluginManager:
    """Return a plugin manager that knows our hooks and no plugin."""
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(Hooks)
    return manager


def ask(manager: pluggy.PluginManager, plugin: object, kind: Kind[T]) -> tuple[tuple[str, T], ...]:
    """Return what a registered plugin answers to the hook of a kind.

    Args:
        manager: The manager that the plugin is registered with.
        plugin: The plugin.
        kind: The kind of value wanted.

    Returns:
        Names and values, in the plugin's order; none where it does not answer the hook.

    Raises:
        HookFault: The answer cannot be used; the cause is what the plugin raised, if it did.
    """
    answers: list[tuple[str, T]] = []
    for implementation in getattr(manager.hook, kind.hook).get_hookimpls():
        if implementation.plugin is plugin:
            if implementation.wrapper or implementation.hookwrapper:
                raise HookFault("is a wrapper, but each plugin is called alone: nothing to wrap")
            answers.extend(_answers(implementation.function, kind))
    return tuple(answers)


def _answers(function: Callable[[], object], kind: Kind[T]) -> Iterator[tuple[str, T]]:
    try:
        answer = function()
    except GUARDED as error:
        raise HookFault(f"raised {fault_of(error)}") from error
    if not isinstance(answer, Iterable):
        raise HookFault(f"returned {shown(answer)}, which cannot be iterated over")
    try:
        # Generators run here, so what they raise is caught here.
        values = list(islice(answer, _MOST_VALUES + 1))
    except GUARDED as error:
        raise HookFault(f"raised {fault_of(error)}") from error
    if len(values) > _MOST_VALUES:
        raise HookFault(f"gives more than {_MOST_VALUES:,} values")
    for value in values:
        try:
            yield kind.checked(value)
        except KindError as error:
            raise HookFault(str(error)) from error
        except GUARDED as error:
            raise HookFault(f"gave {shown(value)}, which raised {fault_of(error)}") from error


def stray_hooks(manager: pluggy.PluginManager, plugin: object) -> Iterator[tuple[str, str]]:
    """Give what looks like an answer to a hook and will never be asked for.

    Args:
        manager: The manager that the plugin is registered with.
        plugin: The plugin.

    Yields:
        The name of the function or hook, and what is wrong with it.
    """
    for caller in manager.get_hookcallers(plugin) or ():
        wanted = any(
            implementation.plugin is plugin and not implementation.optionalhook
            for implementation in caller.get_hookimpls()
        )
        if wanted and not caller.has_spec():
            near = nearest_names(caller.name, HOOK_NAMES)
            hint = f" (did you mean {near[0]}?)" if near else ""
            yield caller.name, f"there is no such hook{hint}"
    for name in HOOK_NAMES:
        function = getattr(plugin, name, None)
        if inspect.isroutine(function) and not hasattr(function, f"{PROJECT}_impl"):
            yield name, "the function is not marked with hookimpl"


def fault_of(error: BaseException) -> str:
    """Return an error in one line of words, for a message about a stranger's code."""
    name = type(error).__name__
    try:
        words = " ".join(str(error).split())
    except Exception:  # noqa: BLE001 - a stranger's error may fail to print
        return name
    if len(words) > _LONGEST_FAULT:
        words = f"{words[: _LONGEST_FAULT - 3]}..."
    return f"{name}: {words}" if words else name
