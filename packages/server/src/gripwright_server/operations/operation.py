"""What an operation is: a request, a function and a result, declared once for every surface."""

from __future__ import annotations

import keyword
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, Protocol, TypeAlias, runtime_checkable

import attrs

from gripwright.errors import GripwrightError

if TYPE_CHECKING:
    from gripwright import Score
    from gripwright.plugins import Registry

RegistrySource: TypeAlias = "Callable[[], Registry]"
"""Gives the registry when it is first needed; an operation that needs none never asks."""


class Result(Protocol):
    """The answer of an operation: rows in a total order, of which a part may be shown.

    Example:
        >>> from gripwright_server.operations.spell import SPELL, SpellRequest
        >>> answer = SPELL.function(SpellRequest(symbols=("Am7", "D7")), lambda: None)
        >>> [row.symbol for row in answer.rows()], answer.returned
        (['Am7', 'D7'], 2)
    """

    @property
    def count(self) -> int:
        """Rows found in all."""

    @property
    def returned(self) -> int:
        """Rows that `rows` yields."""

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the reader should know, one sentence each."""

    def rows(self) -> Iterator[Any]:
        """The rows, flat attrs values ready for JSON, made as they are asked for."""


@runtime_checkable
class ResultWithFacts(Protocol):
    """An answer that says something as a whole, beside its rows."""

    @property
    def facts(self) -> dict[str, Any]:
        """What is so as a whole, ready for JSON; no key is one of the document's own."""


@runtime_checkable
class ResultInParts(Result, Protocol):
    """An answer that can show another part of its rows without being worked out again."""

    def part(self, start: int, stop: int | None) -> Result:
        """The same answer, showing the rows of a range.

        Args:
            start: The first row, counted from 0.
            stop: The row before which it ends; None shows all that follow.
        """


@runtime_checkable
class ResultWithRowTexts(Result, Protocol):
    """An answer that writes its rows quicker than from their values."""

    def row_texts(self) -> Iterator[bytes]:
        """What `rows` yields, as JSON in ASCII without spaces."""


@runtime_checkable
class ResultWithScore(Result, Protocol):
    """An answer that is a score, which every exporter of the registry can write as a file."""

    @property
    def score(self) -> Score:
        """The score."""


@runtime_checkable
class ResultWithVerdict(Result, Protocol):
    """An answer that passes or fails as a whole."""

    @property
    def failed(self) -> bool:
        """Whether it fails; a command then ends with the exit code for that."""


def facts_of(result: Result) -> dict[str, Any]:
    """What an answer says as a whole; nothing where it is its rows alone."""
    # As `ResultWithFacts` has it; to ask for the protocol takes longer than to read a chord.
    facts: dict[str, Any] = getattr(result, "facts", {})
    return facts


@attrs.frozen(kw_only=True)
class Declaration:
    """What an operation says of itself to every surface.

    Args:
        name: Name of the operation: the command, and the last part of the path.
        summary: What it does, one sentence without a full stop.
        collection: What the rows are called together, such as ``"voicings"``.
        request: Flat attrs class whose fields are made by `option`.
        result: The class of what the function returns.
        row: The attrs class of a row.
        formats: The formats that the rows come in, beside the table.
        scored: The result is a `ResultWithScore`, which comes in the formats of the exporters too.
        group: The group of commands, and the part of the path, in which the name stands; empty
            for none.

    Example:
        >>> from gripwright_server.operations.spell import SPELL
        >>> SPELL.full_name, SPELL.schema
        ('spell', 'gripwright/spell/1')
    """

    name: str
    summary: str
    collection: str
    request: type
    result: type
    row: type
    formats: tuple[str, ...] = ("json", "ndjson")
    scored: bool = False
    group: str = ""

    @property
    def full_name(self) -> str:
        """Group and name in one word."""
        return "-".join(filter(None, (self.group, self.name)))

    @property
    def module(self) -> str:
        """What a module is called that is there for this operation alone.

        Within the package of a surface, with dots between.
        """
        name = f"{self.name}_" if keyword.iskeyword(self.name) else self.name
        return ".".join(filter(None, (self.group, name)))

    @property
    def schema(self) -> str:
        """Name and version of the JSON document that the operation answers with."""
        return f"gripwright/{self.full_name}/1"


@attrs.frozen(kw_only=True)
class Operation(Declaration):
    """One thing that Gripwright does, whatever the surface.

    Args:
        function: From a request and the source of the registry to the result.

    Example:
        >>> from gripwright_server.operations.spell import SPELL, SpellRequest
        >>> SPELL.function(SpellRequest(symbols=("Am7",)), lambda: None).count
        1
    """

    function: Callable[[Any, RegistrySource], Result]


class NothingFoundError(GripwrightError, LookupError):
    """A request that is right and has no answer.

    Args:
        sentence: Why there is none.
        condition: The field of the request to change, where one alone would bring something.

    Example:
        >>> print(NothingFoundError(sentence="no instrument: every plugin is switched off"))
        no instrument: every plugin is switched off
    """

    sentence: str
    condition: str | None

    def __init__(self, *, sentence: str, condition: str | None = None) -> None:
        super().__init__(sentence, sentence=sentence, condition=condition)


class RefusedError(GripwrightError, ValueError):
    """What was given can be read, and is not taken.

    Args:
        field: The field of the request that holds it.
        sentence: Why not.
        hints: What can be done, a sentence each.
        pointer: The place in a document (RFC 6901), where it is one; empty for the whole.

    Example:
        >>> print(RefusedError(field="frets", sentence="x-3-5-3-5-x is not Cmaj7"))
        x-3-5-3-5-x is not Cmaj7
    """

    field: str
    sentence: str
    hints: tuple[str, ...]
    pointer: str

    def __init__(
        self, *, field: str, sentence: str, hints: tuple[str, ...] = (), pointer: str = ""
    ) -> None:
        super().__init__(sentence, field=field, sentence=sentence, hints=hints, pointer=pointer)
