"""Errors of the library as problems: one table of kinds, every fault with its place."""

from __future__ import annotations

import contextlib
import functools
from typing import TYPE_CHECKING, Any, Final

import attrs

from gripwright.errors import (
    ChartError,
    ConditionError,
    GripwrightError,
    LeadSheetError,
    NoCandidateError,
    NotationError,
    RowBoundError,
    UnknownNameError,
)
from gripwright_server.http import kinds
from gripwright_server.http.deadline import TimeLimitError
from gripwright_server.http.problem import Fault, Kind, Problem
from gripwright_server.http.validation import pointer_of
from gripwright_server.operations import NothingFoundError, RefusedError
from gripwright_server.operations.chart_text import ChartOptions, read_chart
from gripwright_server.operations.conditions import ConditionOptions, conditions_of
from gripwright_server.operations.name import NoCommonNameError
from gripwright_server.operations.player import InstrumentOptions, instrument_of
from gripwright_server.operations.reading import ReadingOptions, chord_of
from gripwright_server.operations.voicings import NoVoicingError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from gripwright.plugins import Registry
    from gripwright_server.http.surface import Surface, Values

# The first row that fits counts.
KIND_OF: Final[tuple[tuple[type[Exception], Kind], ...]] = (
    (TimeLimitError, kinds.TOO_LONG),
    (NothingFoundError, kinds.NOTHING_FOUND),
    (RefusedError, kinds.REFUSED),
    (NoCandidateError, kinds.NOTHING_FOUND),
    (ChartError, kinds.UNREADABLE),
    (LeadSheetError, kinds.UNREADABLE),
    (NotationError, kinds.UNREADABLE),
    (UnknownNameError, kinds.UNKNOWN),
    (ConditionError, kinds.IMPOSSIBLE),
    (RowBoundError, kinds.TOO_MANY),
    (GripwrightError, kinds.INTERNAL),
)
"""The kind of problem of each kind of error."""

_OF_INPUT: Final = (ChartError, LeadSheetError, NotationError, UnknownNameError, ConditionError)
_SYMBOLS: Final = ("symbol", "symbols", "chord")
_SHORTER: Final = (
    "candidates",
    "choruses",
    "strategy",
    "strings",
    "lowest_fret",
    "highest_fret",
    "max_notes",
    "reach_mm",
    "limit",
)
"""The fields that make an answer quicker to work out."""


def problem_of(
    error: GripwrightError, surface: Surface, values: Values, registry: Callable[[], Registry]
) -> Problem:
    """The problem of an error that an operation raised.

    An operation stops at the first text that it cannot read. Here the others are read too, so that
    every fault is told at once.

    Args:
        error: The error.
        surface: The operation.
        values: Its request, complete.
        registry: Gives the registry.
    """
    kind = next(kind for type_, kind in KIND_OF if isinstance(error, type_))
    if isinstance(error, TimeLimitError):
        own = {field.name for field in surface.fields}
        names = [name for name in _SHORTER if name in own]
        advice = f"; ask for less by {', '.join(names)}" if names else ""
        return kind.problem(f"{error}{advice}")
    if not isinstance(error, _OF_INPUT):
        return kind.problem(str(error), _places(error, surface, values), **_extra(error))
    faults = dict.fromkeys(_places(error, surface, values))
    for other in _other_errors(surface.request(values), registry):
        faults.update(dict.fromkeys(_places(other, surface, values)))
    every = sorted(faults, key=lambda fault: (fault.pointer, fault.line or 0, fault.column or 0))
    return kind.problem(str(error) if len(every) == 1 else None, every)


def _other_errors(request: Any, registry: Callable[[], Registry]) -> Iterator[GripwrightError]:  # noqa: ANN401 - any request
    """What else of a request cannot be read: each of its texts is read alone."""
    for read in _readers(request, registry):
        try:
            with contextlib.suppress(RowBoundError):
                read()
        except GripwrightError as error:
            if isinstance(error, _OF_INPUT):
                yield error


def _readers(request: Any, registry: Callable[[], Registry]) -> Iterator[Callable[[], object]]:  # noqa: ANN401 - as above
    if isinstance(request, ReadingOptions):
        for name in _SYMBOLS:
            texts = getattr(request, name, None) or ()
            for text in (texts,) if isinstance(texts, str) else texts:
                yield functools.partial(chord_of, text, request)
    if isinstance(request, InstrumentOptions):
        yield lambda: instrument_of(request, registry())
    if isinstance(request, ConditionOptions):
        yield lambda: conditions_of(request)
    if isinstance(request, ChartOptions):
        yield lambda: read_chart(request)
    if hasattr(request, "strategy"):
        yield lambda: registry().strategies[request.strategy]


def _places(error: GripwrightError, surface: Surface, values: Values) -> Iterator[Fault]:
    """The faults of an error, each with its place in the request."""
    if isinstance(error, ChartError):
        for place in error.faults:
            yield Fault(
                detail=str(place),
                pointer=pointer_of("chart"),
                line=place.line,
                column=place.column,
                expected=place.expected,
                nearest=_one(place.nearest),
            )
    elif isinstance(error, LeadSheetError):
        yield Fault(
            detail=str(error), pointer=pointer_of("chart"), line=error.line, column=error.column
        )
    elif isinstance(error, NotationError):
        for path in _paths_of(error.text, values):
            yield _placed(
                Fault(
                    detail=str(error),
                    position=error.position,
                    expected=error.expected,
                    nearest=_one(error.nearest),
                ),
                surface,
                path,
            )
    elif isinstance(error, UnknownNameError):
        fault = Fault(detail=str(error), nearest=error.nearest or None)
        for path in _paths_of(error.name, values):
            yield _placed(fault, surface, path)
    elif isinstance(error, ConditionError):
        path = (error.name,) if error.name in values else ()
        yield _placed(Fault(detail=str(error), expected=error.expected), surface, path)
    elif isinstance(error, (NothingFoundError, RefusedError)):
        yield _placed(Fault(detail=error.sentence), surface, _path_of(error, values))


def _path_of(error: NothingFoundError | RefusedError, values: Values) -> tuple[str, ...]:
    """The field that an error is about, or the place in a document that it holds."""
    if isinstance(error, RefusedError):
        return (error.field, *filter(None, error.pointer.split("/")))
    return (error.condition,) if error.condition in values else ()


def _paths_of(text: str, values: Values) -> list[tuple[str | int, ...]]:
    """Where a text stands in a request: as a field, as one of many, or within one."""
    whole: list[tuple[str | int, ...]] = []
    within: list[tuple[str | int, ...]] = []
    for name, value in values.items():
        for place, one in enumerate(value) if isinstance(value, list) else [(None, value)]:
            path = (name,) if place is None else (name, place)
            if one == text and isinstance(one, str):
                whole.append(path)
            elif text and isinstance(one, str) and text in one:
                within.append(path)
    return whole or within[:1] or [()]


def _placed(fault: Fault, surface: Surface, path: tuple[str | int, ...]) -> Fault:
    placed = attrs.evolve(fault, pointer=pointer_of(*path))
    return surface.in_query(placed) if surface.by_get else placed


def _one(text: str | None) -> tuple[str, ...] | None:
    return None if text is None else (text,)


def _extra(error: GripwrightError) -> dict[str, Any]:
    """What an error knows beside its faults."""
    if isinstance(error, NoVoicingError) and error.reductions:
        return {"nearest": [reduction.sentence for reduction in error.reductions]}
    if isinstance(error, NoCommonNameError):
        return {"intervals": list(error.intervals)}
    if isinstance(error, NoCandidateError):
        return {"chord": error.chord, "bar": error.bar}
    return {}
