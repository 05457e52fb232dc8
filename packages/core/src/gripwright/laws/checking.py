"""Checking plugins: every law of every value that they give, and of the theory core."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, Final

import attrs

from gripwright.errors import UnknownNameError
from gripwright.laws import (
    exporter_laws,
    family_laws,
    instrument_laws,
    plugin_laws,
    strategy_laws,
    theory_laws,
)
from gripwright.laws.law import Kind, Law, LawBrokenError
from gripwright.laws.plugin_laws import Known
from gripwright.laws.trial import (
    LOADING_S,
    USUAL_EXAMPLES,
    USUAL_LIMIT_S,
    USUAL_SEED,
    Terms,
    Trial,
    tried,
)
from gripwright.named import nearest_names
from gripwright.plugins.registry import load_registry

if TYPE_CHECKING:
    from gripwright.plugins import Registry

THEORY: Final = "theory"
"""What stands for the theory core where a plugin could be named."""

LAWS: Final[Mapping[Kind, tuple[Law, ...]]] = {
    "theory": theory_laws.LAWS,
    "plugin": plugin_laws.LAWS,
    "instrument": instrument_laws.LAWS,
    "strategy": strategy_laws.LAWS,
    "rhythm family": family_laws.LAWS,
    "exporter": exporter_laws.LAWS,
}
"""Every law, by what it is about."""

_SHELVES: Final[tuple[tuple[Kind, str], ...]] = (
    ("instrument", "instruments"),
    ("strategy", "strategies"),
    ("rhythm family", "rhythm_families"),
    ("exporter", "exporters"),
)
"""The kinds of value that plugins give, with the field of a registry and of a plugin."""


@attrs.frozen
class Task:
    """One law to try on one value.

    Args:
        plugin: The plugin that gives the value; ``"theory"`` for the core.
        name: What the value is called; empty for a law about no value.
        law: The law.
        value: The value.

    Example:
        >>> task = Task("theory", "", theory_laws.LAWS[0], None)
        >>> task.tried(Terms(examples=5)).kept
        True
    """

    plugin: str
    name: str
    law: Law
    value: object = attrs.field(eq=False, repr=False)

    @property
    def title(self) -> str:
        """The task in words: the law, and the value that is to keep it.

        Example:
            >>> Task("theory", "", theory_laws.LAWS[0], None).title
            'intervals-add-in-any-order'
        """
        return f"{self.law.name} of {self.name}" if self.name else self.law.name

    def tried(self, terms: Terms) -> Verdict:
        """Try it.

        Args:
            terms: How hard.
        """
        return Verdict(self, terms, tried(self.law, self.value, terms, name=self.name))


@attrs.frozen
class Verdict:
    """What came of a task.

    Args:
        task: The task.
        terms: How hard it was tried.
        trial: What came of it.

    Example:
        >>> verdict = Task("theory", "", theory_laws.LAWS[0], None).tried(Terms(examples=5))
        >>> verdict.command
        'gripwright check --plugin theory --law intervals-add-in-any-order --examples 5'
    """

    task: Task
    terms: Terms
    trial: Trial

    @property
    def kept(self) -> bool:
        """Whether the law is kept."""
        return self.trial.breach is None

    @property
    def command(self) -> str:
        """The command that tries the law again on the same examples."""
        terms = self.terms
        words = ["gripwright", "check", "--plugin", self.task.plugin, "--law", self.task.law.name]
        # What is usual is left out, so that the line stays short.
        if terms.examples != USUAL_EXAMPLES:
            words += ["--examples", str(terms.examples)]
        if terms.seed != USUAL_SEED:
            words += ["--seed", str(terms.seed)]
        if terms.limit_s != USUAL_LIMIT_S:
            words += ["--time-limit", f"{terms.limit_s:g}"]
        return shlex.join(words)

    @property
    def line(self) -> str:
        """The line of Python that tries the law again on the same examples."""
        terms = self.terms
        arguments = [
            repr(self.task.plugin),
            f"law={self.task.law.name!r}",
            *([f"examples={terms.examples}"] if terms.examples != USUAL_EXAMPLES else []),
            *([f"seed={terms.seed}"] if terms.seed != USUAL_SEED else []),
            *([f"limit_s={terms.limit_s:g}"] if terms.limit_s != USUAL_LIMIT_S else []),
        ]
        return f"import gripwright.laws; gripwright.laws.examine({', '.join(arguments)})"

    def __str__(self) -> str:
        if self.trial.breach is None:
            return f"{self.task.title}: kept, {self.trial.examples} examples"
        task = self.task
        whose = f"{task.name} of {task.plugin}" if task.name else task.plugin
        return f"{task.law.kind} {whose} breaks {task.law.name}: {self.trial.breach}"


def planned(
    registry: Registry, *, plugin: str | None = None, law: str | None = None
) -> tuple[Task, ...]:
    """The tasks of a check, the theory core first, then plugin by plugin.

    Args:
        registry: The registry that gives the plugins.
        plugin: The one plugin to check, or ``"theory"``; all if not given.
        law: The one law to try; all if not given.

    Raises:
        UnknownNameError: There is no such plugin in use, or no such law.

    Example:
        >>> tasks = planned(load_registry(), plugin="builtins", law="recipes-repeat")
        >>> tasks[0].title
        'recipes-repeat of any'
    """
    known = [law for laws in LAWS.values() for law in laws]
    if law is not None and law not in {one.name for one in known}:
        raise _unknown("law", law, [one.name for one in known])
    tasks = [Task(THEORY, "", one, None) for one in LAWS["theory"]]
    for name in _plugins_of(registry):
        tasks += _tasks_of(name, registry)
    names = dict.fromkeys(task.plugin for task in tasks)
    if plugin is not None and plugin not in names:
        raise _unknown("plugin", plugin, list(names))
    return tuple(
        task
        for task in tasks
        if (plugin is None or task.plugin == plugin) and (law is None or task.law.name == law)
    )


def check(
    registry: Registry, terms: Terms, *, plugin: str | None = None, law: str | None = None
) -> Iterator[Verdict]:
    """Try every law, one after the other; a value that breaks one does not end the check.

    Args:
        registry: The registry that gives the plugins.
        terms: How hard to try.
        plugin: The one plugin to check, or ``"theory"``; all if not given.
        law: The one law to try; all if not given.

    Raises:
        UnknownNameError: There is no such plugin in use, or no such law.

    Example:
        >>> verdicts = check(load_registry(), Terms(examples=5), plugin="theory")
        >>> all(verdict.kept for verdict in verdicts)
        True
    """
    tasks = planned(registry, plugin=plugin, law=law)
    return (task.tried(terms) for task in tasks)


def examine(
    plugin: str,
    *,
    law: str | None = None,
    examples: int = USUAL_EXAMPLES,
    seed: int = USUAL_SEED,
    limit_s: float = USUAL_LIMIT_S,
    registry: Registry | None = None,
) -> None:
    """Hold a plugin to its laws.

    Args:
        plugin: Its name, or ``"theory"`` for the core.
        law: The one law to try; all if not given.
        examples: Examples that each law is tried on at most.
        seed: Chooses the examples.
        limit_s: Seconds that the plugin may take over one example.
        registry: The registry that gives the plugin; that of the installed ones if not given.

    Raises:
        UnknownNameError: There is no such plugin in use, or no such law.
        LawBrokenError: A law is broken; all that are broken stand in it, a line each.

    Example:
        >>> examine("builtins", law="recipes-repeat", examples=3)
    """
    known = load_registry(time_limit_s=LOADING_S) if registry is None else registry
    terms = Terms(examples=examples, seed=seed, limit_s=limit_s)
    broken = [one for one in check(known, terms, plugin=plugin, law=law) if not one.kept]
    if broken:
        raise LawBrokenError(fault="\n".join(map(str, broken)))


def _plugins_of(registry: Registry) -> list[str]:
    """The plugins in use, and those that failed."""
    used = [info.name for info in registry.plugins if info.enabled]
    return list(dict.fromkeys([*used, *(one.plugin.name for one in registry.failures)]))


def _tasks_of(plugin: str, registry: Registry) -> Iterator[Task]:
    failures = [one for one in registry.failures if one.plugin.name == plugin]
    infos = (*registry.plugins, *(one.plugin for one in failures))
    known = Known(next(one for one in infos if one.name == plugin), tuple(map(str, failures)))
    # Of a plugin that did not load as it should there is nothing more to say as a whole.
    laws = LAWS["plugin"][:1] if failures else LAWS["plugin"]
    yield from (Task(plugin, "", law, known) for law in laws)
    for info in registry.plugins:
        if info.name != plugin:
            continue
        for kind, field in _SHELVES:
            values: Mapping[str, Any] = getattr(registry, field)
            for name in getattr(info, field):
                yield from (Task(plugin, name, law, values[name]) for law in LAWS[kind])


def _unknown(kind: str, name: str, known: list[str]) -> UnknownNameError:
    return UnknownNameError(
        kind=kind,
        name=name,
        nearest=nearest_names(name, known),
        hint=f"known are {', '.join(known)}" if kind == "plugin" else "",
    )
