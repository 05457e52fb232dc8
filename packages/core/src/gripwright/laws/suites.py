"""The laws as tests: one line in a plugin's test file."""

from __future__ import annotations

from importlib.util import find_spec
from typing import TYPE_CHECKING, Any

from gripwright.laws.checking import Task, planned
from gripwright.laws.law import LawBrokenError
from gripwright.laws.trial import LOADING_S, USUAL_EXAMPLES, USUAL_LIMIT_S, USUAL_SEED, Terms
from gripwright.plugins.registry import load_registry

if TYPE_CHECKING:
    from collections.abc import Callable

    from gripwright.plugins import Registry


def suite(
    plugin: str,
    *,
    examples: int = USUAL_EXAMPLES,
    seed: int = USUAL_SEED,
    limit_s: float = USUAL_LIMIT_S,
    registry: Registry | None = None,
) -> Callable[..., None]:
    """The laws of a plugin as a test function: ``test_laws = gripwright.laws.suite("my-plugin")``.

    Under pytest it is one test for each law and value, so that all that are broken are named;
    without pytest it is a function that tries them all.

    Args:
        plugin: The name of the plugin: that of its entry point.
        examples: Examples that each law is tried on at most.
        seed: Chooses the examples.
        limit_s: Seconds that the plugin may take over one example.
        registry: The registry that gives the plugin; that of the installed ones if not given.

    Returns:
        The test.

    Raises:
        UnknownNameError: There is no such plugin in use.

    Example:
        >>> test_laws = suite("builtins", examples=5)
        >>> test_laws.__doc__
        "The plugin 'builtins' keeps the laws."
    """
    known = load_registry(time_limit_s=LOADING_S) if registry is None else registry
    terms = Terms(examples=examples, seed=seed, limit_s=limit_s)
    tasks = planned(known, plugin=plugin)

    def hold(task: Task) -> None:
        verdict = task.tried(terms)
        if not verdict.kept:
            raise LawBrokenError(fault=f"{task.law.statement}\n{verdict}\nAgain: {verdict.line}")

    test = _for_pytest(hold, tasks) if find_spec("pytest") else _for_all(hold, tasks)
    test.__doc__ = f"The plugin {plugin!r} keeps the laws."
    return test


def _for_pytest(hold: Callable[[Task], None], tasks: tuple[Task, ...]) -> Callable[..., None]:
    # Late on purpose: the laws need pytest in a test file alone.
    import pytest  # noqa: PLC0415

    def test_laws(task: Task) -> None:
        try:
            hold(task)
        except LawBrokenError as error:
            # The words alone: the way to them is ours, and says nothing of the plugin.
            pytest.fail(str(error), pytrace=False)

    titles = [f"{task.law.name}-{task.name}" if task.name else task.law.name for task in tasks]
    parametrized: Callable[..., Any] = pytest.mark.parametrize("task", tasks, ids=titles)
    marked: Callable[..., None] = parametrized(test_laws)
    return marked


def _for_all(hold: Callable[[Task], None], tasks: tuple[Task, ...]) -> Callable[..., None]:
    def test_laws() -> None:
        broken = []
        for task in tasks:
            try:
                hold(task)
            except LawBrokenError as error:
                broken.append(str(error))
        if broken:
            raise LawBrokenError(fault="\n\n".join(broken))

    return test_laws
