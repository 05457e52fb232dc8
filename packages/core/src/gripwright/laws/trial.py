"""One law tried on one value: kept, or broken with the smallest case that shows it."""

from __future__ import annotations

import hashlib
import math
import time
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

import attrs
import hypothesis
from hypothesis import HealthCheck, Phase, settings
from hypothesis.errors import Flaky, HypothesisException, Unsatisfiable

from gripwright.errors import ConditionError
from gripwright.laws.law import Law, LawBrokenError
from gripwright.laws.words import case_in_words
from gripwright.plugins.host import fault_of
from gripwright.plugins.watch import HangError, Pulse, watched

if TYPE_CHECKING:
    from collections.abc import Callable

USUAL_EXAMPLES: Final = 20
"""Examples that a law is tried on where nobody says."""

USUAL_SEED: Final = 0
"""What chooses the examples where nobody says."""

USUAL_LIMIT_S: Final = 10.0
"""Seconds that a plugin may take over one example where nobody says."""

LOADING_S: Final = 30.0
"""Seconds that a plugin may take to be loaded."""

MOST_EXAMPLES: Final = 100_000
LONGEST_S: Final = 3600.0

_DRAWING_S: Final = 30.0
"""Seconds after which no further examples are drawn: slow code is tried on fewer."""

_SHRINKING_S: Final = 15.0
"""Seconds after which no smaller case is looked for."""

_QUIET: Final = tuple(HealthCheck)
_PHASES: Final = (Phase.generate, Phase.shrink)


class _EnoughError(BaseException):
    """The smallest case has been looked for long enough."""


@attrs.frozen(kw_only=True)
class Terms:
    """How hard laws are tried; equal terms give equal verdicts.

    Args:
        examples: Examples that each law is tried on at most, 1 to 100,000.
        seed: Chooses the examples.
        limit_s: Seconds that a plugin may take over one example, above 0 and up to 3600.

    Raises:
        ConditionError: A value outside its range.

    Example:
        >>> Terms(examples=10).seed
        0
    """

    examples: int = attrs.field(default=USUAL_EXAMPLES)
    seed: int = attrs.field(default=USUAL_SEED)
    limit_s: float = attrs.field(default=USUAL_LIMIT_S)

    @examples.validator
    def _check_examples(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_EXAMPLES:
            raise ConditionError(
                name="examples", value=value, expected=f"a whole number, 1 to {MOST_EXAMPLES:,}"
            )

    @limit_s.validator
    def _check_limit(self, _attribute: object, value: float) -> None:
        if not 0 < value <= LONGEST_S:
            raise ConditionError(
                name="limit_s", value=value, expected=f"above 0 to {LONGEST_S:g} seconds"
            )


@attrs.frozen
class Breach:
    """How a law is broken.

    Args:
        fault: What is so and should not be.
        case: The smallest case that shows it, in the field's own words; empty where the law
            needs no case.

    Example:
        >>> print(Breach("it has no third", "C7"))
        C7: it has no third
    """

    fault: str
    case: str = ""

    def __str__(self) -> str:
        return f"{self.case}: {self.fault}" if self.case else self.fault


@attrs.frozen
class Trial:
    """What came of trying a law.

    Args:
        examples: How many examples it was tried on before the first that breaks it, if any.
        breach: How it is broken; None where it is kept.

    Example:
        >>> Trial(examples=20, breach=None).breach is None
        True
    """

    examples: int
    breach: Breach | None


def tried(law: Law, value: object, terms: Terms, *, name: str = "") -> Trial:
    """Try a law on a value.

    Args:
        law: The law.
        value: The value; None for a law of the theory, which is about no value.
        terms: How hard to try.
        name: What the value is called; with the law it chooses the examples, so that they do not
            depend on what else is tried.

    Returns:
        Whether the law is kept. Whatever the value's code raises breaks it, and so does taking
        longer over one example than the terms allow.

    Example:
        >>> from gripwright.laws.instrument_laws import LAWS
        >>> from gripwright.neck import Instrument
        >>> in_inches = Instrument.from_text("E2 A2 D3 G3", frets=20, scale_mm=34.0)
        >>> law = next(law for law in LAWS if law.name == "strings-are-measured-in-mm")
        >>> print(tried(law, in_inches, Terms()).breach)
        string 1 is 34 mm long: lengths are in mm, 100 to 2000
    """
    run = _Run(law, value, terms, _seed(f"{terms.seed}/{law.kind}/{name}/{law.name}"))
    try:
        watched(run.run, max(terms.limit_s, law.least_s))
    except HangError as error:
        return Trial(run.examples, Breach(str(error), run.at_work))
    except Exception as error:  # noqa: BLE001 - a stranger's code may raise anything
        return Trial(run.examples, run.breach(error))
    except (_EnoughError, SystemExit, GeneratorExit) as error:
        return Trial(run.examples, run.breach(error))
    return Trial(run.examples, None)


def _seed(text: str) -> int:
    return int.from_bytes(hashlib.blake2b(text.encode(), digest_size=8).digest())


class _Run:
    """One law under trial, in the thread of the stranger's code."""

    def __init__(self, law: Law, value: object, terms: Terms, seed: int) -> None:
        self.examples = 0
        self.at_work = ""
        self._law: Final = law
        self._value: Final = value
        self._most: Final = max(1, math.ceil(terms.examples * law.share))
        self._seed: Final = seed
        self._smallest: tuple[str, BaseException] | None = None
        self._began: Final = time.monotonic()
        self._broken: float | None = None

    def run(self, pulse: Pulse) -> None:
        """Try the law; raise where it is broken."""
        pulse.begin()
        draws = self._law.draws(self._value)
        pulse.end()
        if not draws:
            self._one(pulse, {})
            return
        self._tried(draws, lambda drawn: self._one(pulse, drawn))

    def _tried(self, draws: Mapping[str, Any], one: Callable[[Mapping[str, object]], None]) -> None:
        def law(**drawn: object) -> None:
            one(drawn)

        law.__name__ = self._law.name.replace("-", "_")
        chosen = settings(
            max_examples=self._most,
            database=None,
            deadline=None,
            phases=_PHASES,
            print_blob=False,
            report_multiple_bugs=False,
            suppress_health_check=_QUIET,
        )
        hypothesis.seed(self._seed)(chosen(hypothesis.given(**draws)(law)))()

    def _one(self, pulse: Pulse, drawn: Mapping[str, object]) -> None:
        """Try one example."""
        if self._late():
            return
        # Before the stranger's code can change what is drawn.
        self.at_work = case_in_words(drawn)
        pulse.begin()
        try:
            self._law.holds(self._value, **drawn)
        except HypothesisException:
            raise
        except (Exception, SystemExit, GeneratorExit) as error:
            self._note(error)
            raise
        except KeyboardInterrupt as error:
            # The user's own goes to the main thread: this one is the plugin's.
            self._note(error)
            raise LawBrokenError(fault=_sentence(error)) from error
        finally:
            pulse.end()
        if self._broken is None:
            self.examples += 1

    def _late(self) -> bool:
        """Whether there is no time for another example; raises where it is for a smaller one."""
        now = time.monotonic()
        if self._broken is None:
            return now - self._began > _DRAWING_S
        if now - self._broken > _SHRINKING_S:
            raise _EnoughError
        return False

    def _note(self, error: BaseException) -> None:
        if self._broken is None:
            self._broken = time.monotonic()
        # Hypothesis only goes from a case to a smaller one, and ends with the smallest.
        self._smallest = (self.at_work, error)

    def breach(self, error: BaseException) -> Breach:
        """How the law is broken, from what ended the trial."""
        if self._smallest is None:
            if isinstance(error, Unsatisfiable):
                return Breach("there is nothing that it could be tried on")
            return Breach(_sentence(error))
        case, cause = self._smallest
        fault = _sentence(cause)
        if isinstance(error, Flaky):
            fault = f"it answers one way and then another: {fault}"
        return Breach(fault, case)


def _sentence(error: BaseException) -> str:
    """What went wrong, in words."""
    if isinstance(error, LawBrokenError):
        return error.fault
    return f"it raised {fault_of(error)}"
