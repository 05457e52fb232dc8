"""Every error the library raises on purpose.

One root, `GripwrightError`; below it, errors that are also the builtin a caller expects. Each
carries its data as attributes, so that a surface can mark the place and offer the nearest name,
and each survives pickling.
"""

from __future__ import annotations

from typing import Any

import attrs

_SHOWN_TEXT = 80
_SHOWN_FAULTS = 20


class GripwrightError(Exception):
    """Root of all errors of this library.

    Subclasses are built from keyword arguments, which stand on the error as attributes.

    Example:
        >>> from gripwright import Chord, GripwrightError
        >>> try:
        ...     Chord.parse("Cmaj77")
        ... except GripwrightError as error:
        ...     print(error.position)
        5
    """

    def __init__(self, message: str, **data: Any) -> None:
        super().__init__(message)
        self._data = data
        for name, value in data.items():
            setattr(self, name, value)

    def __str__(self) -> str:
        return str(self.args[0])

    def __reduce__(self) -> tuple[Any, ...]:
        return _restore, (type(self), self._data)


def _restore(kind: type[GripwrightError], data: dict[str, Any]) -> GripwrightError:
    return kind(**data)


class NotationError(GripwrightError, ValueError):
    """A text that cannot be read as what it should be.

    Args:
        what: What was being read, such as ``"chord symbol"``.
        text: The whole text, as given.
        position: Index of the first character that does not fit, counted from 0; the length of
            the text where it ends too early.
        expected: What could have stood there, in words.
        nearest: The nearest readable text, or None where none is near.

    Example:
        >>> from gripwright import Note
        >>> try:
        ...     Note.parse("Qb")
        ... except NotationError as error:
        ...     print(error)
        cannot read note 'Qb': unexpected 'Q' at position 0 (expected a letter from A to G)
    """

    what: str
    text: str
    position: int
    expected: str
    nearest: str | None

    def __init__(
        self, *, what: str, text: str, position: int, expected: str, nearest: str | None = None
    ) -> None:
        if position < len(text):
            found = f"unexpected {text[position]!r} at position {position}"
        else:
            found = f"it ends at position {position}"
        hint = f"did you mean {nearest!r}?" if nearest else f"expected {expected}"
        super().__init__(
            f"cannot read {what} {_shown(text)}: {found} ({hint})",
            what=what,
            text=text,
            position=position,
            expected=expected,
            nearest=nearest,
        )


class ChordSymbolError(NotationError):
    """A text that is no chord symbol; the data of `NotationError`, with `nearest` always given.

    Example:
        >>> from gripwright import Chord, ChordSymbolError
        >>> try:
        ...     Chord.parse("Cmaj77")
        ... except ChordSymbolError as error:
        ...     print(error)
        cannot read chord symbol 'Cmaj77': unexpected '7' at position 5 (did you mean 'Cmaj7'?)
    """

    nearest: str

    def __init__(
        self, *, text: str, position: int, expected: str, nearest: str, what: str = "chord symbol"
    ) -> None:
        super().__init__(
            what=what, text=text, position=position, expected=expected, nearest=nearest
        )


@attrs.frozen
class ChartFault:
    """One place of a chart that cannot be read.

    Args:
        line: Its line, counted from 1.
        column: The first character that does not fit, counted from 1 in its line.
        text: What stands there; empty where something is missing.
        expected: What could have stood there, in words.
        nearest: The nearest readable text, or None where none is near.

    Example:
        >>> print(ChartFault(2, 7, "Cmaj77", "a chord", "Cmaj7"))
        line 2, column 7: unexpected 'Cmaj77' (expected a chord; did you mean 'Cmaj7'?)
    """

    line: int
    column: int
    text: str
    expected: str
    nearest: str | None = None

    def __str__(self) -> str:
        found = f"unexpected {_shown(self.text)}" if self.text else "something is missing"
        hint = f"; did you mean {self.nearest!r}?" if self.nearest else ""
        return f"line {self.line}, column {self.column}: {found} (expected {self.expected}{hint})"


class ChartError(GripwrightError, ValueError):
    """A text that is no chart.

    Args:
        faults: Every fault of the text, in its order.

    Example:
        >>> from gripwright import Chart
        >>> try:
        ...     Chart.parse("| Dm7 | Cmaj77 |")
        ... except ChartError as error:
        ...     print(error.faults[0].column, error.faults[0].nearest)
        14 Cmaj7
    """

    faults: tuple[ChartFault, ...]

    def __init__(self, *, faults: tuple[ChartFault, ...]) -> None:
        if len(faults) == 1:
            message = f"cannot read chart: {faults[0]}"
        else:
            shown = [f"  {fault}" for fault in faults[:_SHOWN_FAULTS]]
            if len(faults) > _SHOWN_FAULTS:
                shown.append(f"  and {len(faults) - _SHOWN_FAULTS} more")
            message = "\n".join([f"cannot read chart: {len(faults)} faults", *shown])
        super().__init__(message, faults=faults)


class LeadSheetError(GripwrightError, ValueError):
    """A file that is no lead sheet, or one that is refused unread.

    Args:
        name: The name of the file, or None.
        reason: What is wrong, in words.
        line: Its line, counted from 1, where it has one.
        column: Its column, counted from 1, where it has one.

    Example:
        >>> print(LeadSheetError(name="tune.mxl", reason="it is empty"))
        cannot read lead sheet 'tune.mxl': it is empty
    """

    name: str | None
    reason: str
    line: int | None
    column: int | None

    def __init__(
        self,
        *,
        reason: str,
        name: str | None = None,
        line: int | None = None,
        column: int | None = None,
    ) -> None:
        which = "" if name is None else f" {_shown(name)}"
        where = "" if line is None else f" (line {line}, column {column})"
        super().__init__(
            f"cannot read lead sheet{which}: {reason}{where}",
            name=name,
            reason=reason,
            line=line,
            column=column,
        )


class UnknownNameError(GripwrightError, KeyError):
    """A name that nothing carries (also a `LookupError`).

    Args:
        kind: What was looked up, such as ``"instrument"``.
        name: The name as given.
        nearest: Known names near it, best first.
        hint: A sentence that helps, such as which distribution is missing; may be empty.

    Example:
        >>> print(UnknownNameError(kind="instrument", name="gitar", nearest=("guitar",)))
        unknown instrument 'gitar' (did you mean 'guitar'?)
    """

    kind: str
    name: str
    nearest: tuple[str, ...]
    hint: str

    def __init__(
        self, *, kind: str, name: str, nearest: tuple[str, ...] = (), hint: str = ""
    ) -> None:
        parts = [f"unknown {kind} {_shown(name)}"]
        if nearest:
            parts.append(f" (did you mean {' or '.join(repr(near) for near in nearest)}?)")
        if hint:
            parts.append(f": {hint}")
        super().__init__("".join(parts), kind=kind, name=name, nearest=nearest, hint=hint)


class ConditionError(GripwrightError, ValueError):
    """A value outside what a setting takes.

    Args:
        name: The setting.
        value: The value as given.
        expected: What it takes, in words with the range.

    Example:
        >>> print(ConditionError(name="fingers", value=9, expected="1 to 5 fingers"))
        fingers cannot be 9: expected 1 to 5 fingers
    """

    name: str
    value: object
    expected: str

    def __init__(self, *, name: str, value: object, expected: str) -> None:
        super().__init__(
            f"{name} cannot be {_shown(value)}: expected {expected}",
            name=name,
            value=value,
            expected=expected,
        )


class RowBoundError(GripwrightError, ValueError):
    """More rows than the caller is willing to hold.

    Args:
        bound: The largest number of rows allowed.
        hint: How to ask for less.

    Example:
        >>> print(RowBoundError(bound=5_000_000, hint="name a strategy"))
        more than 5,000,000 voicings: name a strategy
    """

    bound: int
    hint: str

    def __init__(self, *, bound: int, hint: str) -> None:
        super().__init__(f"more than {bound:,} voicings: {hint}", bound=bound, hint=hint)


class NoCandidateError(GripwrightError, ValueError):
    """A chord of a line without a voicing to choose.

    Args:
        chord: The chord's symbol.
        bar: The number of the bar as played, counted from 1.
        reason: Which condition leaves none, and what there is without it.

    Example:
        >>> print(NoCandidateError(chord="C13", bar=4, reason="no playable voicing of C13"))
        no voicing for C13 in bar 4: no playable voicing of C13
    """

    chord: str
    bar: int
    reason: str

    def __init__(self, *, chord: str, bar: int, reason: str) -> None:
        super().__init__(
            f"no voicing for {chord} in bar {bar}: {reason}", chord=chord, bar=bar, reason=reason
        )


class PluginError(GripwrightError, RuntimeError):
    """Plugins that failed, raised where the caller asked for strictness.

    Args:
        failures: One sentence a failure, each naming distribution, entry point and hook.

    Example:
        >>> print(PluginError(failures=("plugin 'x' could not be loaded",)))
        plugin 'x' could not be loaded
    """

    failures: tuple[str, ...]

    def __init__(self, *, failures: tuple[str, ...]) -> None:
        super().__init__("; ".join(failures), failures=failures)


class ScoreError(GripwrightError, ValueError):
    """A text that is no document of a score.

    Args:
        pointer: The place in the document (JSON pointer, RFC 6901); empty for the whole of it.
        found: What stands there, in words.
        expected: What could have stood there, in words.

    Example:
        >>> print(ScoreError(pointer="/bars/3", found="it has no 'onset'", expected="a bar"))
        cannot read score at /bars/3: it has no 'onset' (expected a bar)
    """

    pointer: str
    found: str
    expected: str

    def __init__(self, *, pointer: str, found: str, expected: str) -> None:
        place = f" at {pointer}" if pointer else ""
        super().__init__(
            f"cannot read score{place}: {found} (expected {expected})",
            pointer=pointer,
            found=found,
            expected=expected,
        )


class MissingExtraError(GripwrightError, ImportError):
    """A library that an extra brings and that is not installed.

    Args:
        library: What is missing.
        extra: What to install, as pip names it.

    Example:
        >>> print(MissingExtraError(library="Hypothesis", extra="gripwright[laws]"))
        Hypothesis is not installed: pip install 'gripwright[laws]'
    """

    library: str
    extra: str

    def __init__(self, *, library: str, extra: str) -> None:
        super().__init__(
            f"{library} is not installed: pip install '{extra}'", library=library, extra=extra
        )


def _shown(value: object) -> str:
    shown = repr(value)
    return shown if len(shown) <= _SHOWN_TEXT else f"{shown[: _SHOWN_TEXT - 3]}..."
