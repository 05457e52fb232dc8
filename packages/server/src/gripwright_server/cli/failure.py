"""Errors on the command line: one table of exit codes, one way to show each."""

from __future__ import annotations

import sys
import unicodedata
from typing import TYPE_CHECKING, Final

import click

from gripwright.errors import (
    ChartError,
    ConditionError,
    GripwrightError,
    LeadSheetError,
    NoCandidateError,
    NotationError,
    PluginError,
    RowBoundError,
    UnknownNameError,
)
from gripwright_server.operations import (
    LOCAL_OPERATIONS,
    OPERATIONS,
    NothingFoundError,
    RefusedError,
    request_fields,
)
from gripwright_server.operations.chart_text import UnreadableChartError
from gripwright_server.operations.voicings import NoVoicingError

if TYPE_CHECKING:
    from gripwright_server.operations import RequestField

FAILED: Final = 1
USAGE: Final = 2
NOTHING_FOUND: Final = 3
UNREADABLE: Final = 4
INTERRUPTED: Final = 130

# The first row that fits counts.
EXIT_CODES: Final[tuple[tuple[type[BaseException], int], ...]] = (
    (NothingFoundError, NOTHING_FOUND),
    (NoCandidateError, NOTHING_FOUND),
    (ChartError, UNREADABLE),
    (LeadSheetError, UNREADABLE),
    (NotationError, UNREADABLE),
    (RefusedError, UNREADABLE),
    (UnknownNameError, USAGE),
    (ConditionError, USAGE),
    (RowBoundError, FAILED),
    (PluginError, FAILED),
    (GripwrightError, FAILED),
    (click.Abort, INTERRUPTED),
    (click.UsageError, USAGE),
    (click.ClickException, FAILED),
    (OSError, FAILED),
)
"""Exit code of each kind of error."""

_SHOWN: Final = 60
_CUT: Final = "..."


def report(error: Exception) -> int:
    """Say on stderr what went wrong.

    Args:
        error: The error that ended the command.

    Returns:
        The exit code.

    Raises:
        Exception: The error itself, where the table has no row for it.
    """
    code = next((code for kind, code in EXIT_CODES if isinstance(error, kind)), None)
    if code is None:
        raise error
    if isinstance(error, click.UsageError):
        error.show(sys.stderr)
    elif isinstance(error, click.Abort):
        click.echo("Interrupted", err=True)
    else:
        for line in _lines(error):
            click.echo(line, err=True)
    return code


def _lines(error: Exception) -> list[str]:
    if isinstance(error, NotationError):
        return _marked(error)
    if isinstance(error, UnreadableChartError):
        return _faults(error)
    if isinstance(error, ConditionError):
        value = _written(error.value)
        return [f"Error: {as_option(error.name)} cannot be {value}: expected {error.expected}"]
    if isinstance(error, NothingFoundError):
        return _reason(error)
    if isinstance(error, NoCandidateError):
        return [_sentence(str(error))]
    hints = error.hints if isinstance(error, RefusedError) else ()
    return [f"Error: {error}", *hints]


def as_option(name: str) -> str:
    """The option of a field, where there is one; the name itself for anything else.

    Example:
        >>> as_option("reach_mm")
        '--reach-mm'
        >>> as_option("chart")
        'CHART'
    """
    field = _declared().get(name)
    if field is None:
        return name
    if field.option.positional:
        return str(field.option.form)
    # An option that may be given again names one of its values.
    word = name.removesuffix("s") if field.many and field.base is str else name
    return f"--{word.replace('_', '-')}"


def _declared() -> dict[str, RequestField]:
    """The fields of all requests by their names; those of a vocabulary where one is at hand."""
    vocabulary = sys.modules.get("gripwright_server.operations.vocabulary")
    kept = () if vocabulary is None else vocabulary.VOCABULARY
    return {
        field.name: field
        for operation in (*kept, *LOCAL_OPERATIONS, *OPERATIONS)
        for field in request_fields(operation.request)
    }


def _marked(error: NotationError) -> list[str]:
    """The text with a caret under the first character that does not fit."""
    text, column = _window(error.text, error.position)
    lines = [
        f"Error: cannot read the {error.what}",
        f"  {text}",
        f"  {' ' * column}^ expected {error.expected}",
    ]
    if error.nearest:
        lines.append(f"Did you mean {error.nearest}?")
    return lines


def _faults(error: UnreadableChartError) -> list[str]:
    """Every fault of a chart, its line with a caret under the first character."""
    count = len(error.faults)
    lines = [f"Error: cannot read the chart{f': {count} faults' if count > 1 else ''}"]
    source = error.source.splitlines()
    for fault in error.faults:
        line = source[fault.line - 1] if fault.line <= len(source) else ""
        text, column = _window(line, fault.column - 1)
        near = f" (did you mean {fault.nearest}?)" if fault.nearest else ""
        lines += [
            f"Line {fault.line}, column {fault.column}:",
            f"  {text}",
            f"  {' ' * column}^ expected {fault.expected}{near}",
        ]
    return lines


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _window(text: str, position: int) -> tuple[str, int]:
    """The part of a text around a position, safe to print, and the column of the position."""
    start = max(0, position - _SHOWN // 2) if len(text) > _SHOWN else 0
    end = start + _SHOWN
    before = "".join(map(_printable, text[start:position]))
    after = "".join(map(_printable, text[position:end]))
    before = f"{_CUT}{before}" if start else before
    after = f"{after}{_CUT}" if end < len(text) else after
    return before + after, sum(map(_columns, before))


def _printable(character: str) -> str:
    """The character, or a question mark for one that would move the cursor or show nothing."""
    return character if character.isprintable() else "?"


def _columns(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in {"F", "W"} else 1


def _written(value: object) -> str:
    """A value as it is written after an option."""
    if value is None:
        return "left open"
    if value is True:
        return "given"
    return ",".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _reason(error: NothingFoundError) -> list[str]:
    lines = [_sentence(error.sentence)]
    if error.condition:
        lines.append(f"Loosen or leave out {as_option(error.condition)}")
    if isinstance(error, NoVoicingError) and error.reductions:
        lines.append("The nearest chords that can be played:")
        lines.extend(f"  {reduction.sentence}" for reduction in error.reductions)
    return lines
