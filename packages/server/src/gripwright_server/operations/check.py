"""The check: every law of the theory core and of what the plugins give."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.progress import tell_progress

if TYPE_CHECKING:
    from gripwright.laws import Verdict

_MOST_EXAMPLES: Final = 100_000
_LONGEST_S: Final = 3600
_HIGHEST_SEED: Final = 999_999


@attrs.frozen(kw_only=True, slots=False)
class CheckRequest:
    """A request to hold plugins to the laws."""

    heading: ClassVar[str] = "Check"

    plugin: str | None = option(
        help="the one plugin to check, or theory for the core; all if left out", default=None
    )
    law: str | None = option(help="the one law to try; all if left out", default=None)
    examples: int = option(
        help="examples that each law is tried on at most", default=20, ge=1, le=_MOST_EXAMPLES
    )
    seed: int = option(help="chooses the examples", default=0, ge=0, le=_HIGHEST_SEED)
    time_limit: float = option(
        help="how long a plugin may take over one example",
        default=10.0,
        ge=0.1,
        le=_LONGEST_S,
        unit="s",
    )


@attrs.frozen(kw_only=True)
class CheckRow:
    """A row: one law, tried on one value.

    Args:
        plugin: The plugin that gives the value; ``"theory"`` for the core.
        kind: What the law is about.
        name: The value; empty for a law about no value.
        law: The name of the law.
        statement: What holds, one sentence.
        kept: Whether it is kept.
        examples: How many examples it was kept on.
        fault: What is so and should not be; None where the law is kept.
        counterexample: The smallest case that shows it; None where the law needs none.
        again: The command that tries the law again; None where it is kept.
    """

    plugin: str
    kind: str
    name: str
    law: str
    statement: str
    kept: bool
    examples: int
    fault: str | None
    counterexample: str | None
    again: str | None


@attrs.frozen
class CheckResult:
    """What came of every law that was tried.

    Args:
        verdicts: One for each law and value, the theory core first, then plugin by plugin.
    """

    verdicts: "tuple[Verdict, ...]"

    @property
    def count(self) -> int:
        """Laws tried in all, each on each value."""
        return len(self.verdicts)

    @property
    def returned(self) -> int:
        """Rows that `rows` yields: all of them."""
        return len(self.verdicts)

    @property
    def warnings(self) -> tuple[str, ...]:
        """None: what is wrong stands in the rows."""
        return ()

    @property
    def facts(self) -> dict[str, int]:
        """How many laws are kept, and how many broken."""
        kept = sum(verdict.kept for verdict in self.verdicts)
        return {"kept": kept, "broken": len(self.verdicts) - kept}

    @property
    def failed(self) -> bool:
        """Whether any law is broken."""
        return not all(verdict.kept for verdict in self.verdicts)

    def rows(self) -> Iterator[CheckRow]:
        """One row a law and value."""
        for verdict in self.verdicts:
            task, breach = verdict.task, verdict.trial.breach
            yield CheckRow(
                plugin=task.plugin,
                kind=task.law.kind,
                name=task.name,
                law=task.law.name,
                statement=task.law.statement,
                kept=verdict.kept,
                examples=verdict.trial.examples,
                fault=None if breach is None else breach.fault,
                counterexample=(breach.case or None) if breach else None,
                again=None if verdict.kept else verdict.command,
            )


def check(request: CheckRequest, registry: RegistrySource) -> CheckResult:
    """Try every law on everything that the plugins give, and on the theory core.

    How far it is is told by `gripwright_server.operations.progress`.

    Args:
        request: Which plugin, which law, how hard.
        registry: Asked for the plugins.

    Raises:
        MissingExtraError: Hypothesis is not installed.
        UnknownNameError: There is no such plugin in use, or no such law.
        NothingFoundError: No plugin is in use and none is named.
    """
    # Late on purpose: no other operation needs Hypothesis, which is an extra.
    from gripwright.laws import Terms, planned  # noqa: PLC0415

    known = registry()
    if request.plugin is None and not any(info.enabled for info in known.plugins):
        raise NothingFoundError(
            sentence="there is no plugin to check: none is in use"
            " (--plugin theory checks the theory core alone)"
        )
    terms = Terms(examples=request.examples, seed=request.seed, limit_s=request.time_limit)
    tasks = planned(known, plugin=request.plugin, law=request.law)
    if not tasks:
        raise NothingFoundError(sentence="there is nothing that this law is about")
    verdicts = []
    for number, task in enumerate(tasks, start=1):
        tell_progress(number, len(tasks), f"{task.plugin}: {task.title}")
        verdicts.append(task.tried(terms))
    return CheckResult(tuple(verdicts))


CHECK: Final = Operation(
    name="check",
    summary="Hold the theory and the plugins to their laws",
    collection="laws",
    request=CheckRequest,
    function=check,
    result=CheckResult,
    row=CheckRow,
)
"""The check as an operation."""
