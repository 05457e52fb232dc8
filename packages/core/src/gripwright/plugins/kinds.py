"""The kinds of value that plugins give, each with its hook and its check.

A kind is one row: adding one means a hook in `Hooks`, a row here and a field of `Registry`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from typing import (
    TYPE_CHECKING,
    Final,
    Generic,
    Protocol,
    TypeAlias,
    TypeVar,
    cast,
    runtime_checkable,
)

import attrs

from gripwright.meter.family import RhythmFamily
from gripwright.neck.instrument import Instrument

if TYPE_CHECKING:
    from gripwright.neck.recipe import VoicingStrategy
    from gripwright.score import Score

T = TypeVar("T")

_Wanted: TypeAlias = dict[str, Callable[[object], bool]]

_NAME: Final = re.compile(r"[a-z][a-z0-9-]*")
_SHOWN: Final = 60
_ADDRESS: Final = re.compile(r" at 0x[0-9A-Fa-f]+")


@runtime_checkable
class Exporter(Protocol):
    """A writer of one file format; `ReadingExporter` is one that can read it too.

    Example:
        >>> from gripwright import load_registry
        >>> exporter = load_registry().exporters["json"]
        >>> isinstance(exporter, Exporter), exporter.suffixes
        (True, ('.json',))
    """

    @property
    def name(self) -> str:
        """Its name: lower-case ASCII letters, digits and hyphens, starting with a letter."""

    @property
    def summary(self) -> str:
        """One line for a list of formats."""

    @property
    def suffixes(self) -> tuple[str, ...]:
        """The endings of file names that mean this format, such as ``(".mid", ".midi")``."""

    @property
    def media_type(self) -> str:
        """The registered media type, such as ``"image/svg+xml"`` (RFC 6838)."""

    def export(self, score: Score, /) -> bytes:
        """Write a score, to equal bytes for equal scores."""


@runtime_checkable
class ReadingExporter(Exporter, Protocol):
    """An exporter whose format has a reader: two methods more, which no hook asks for.

    What is read from a file is what the format keeps of the score, which may be less than all of
    it: ``read(export(score), score.instrument) == kept(score)``. The laws hold it to that.

    Example:
        >>> from gripwright import load_registry
        >>> from gripwright.score.sample import sample_score
        >>> exporter, score = load_registry().exporters["json"], sample_score()
        >>> isinstance(exporter, ReadingExporter)
        True
        >>> exporter.read(exporter.export(score), score.instrument) == exporter.kept(score)
        True
    """

    def read(self, data: bytes, instrument: Instrument, /) -> object:
        """Read a file.

        Args:
            data: The file.
            instrument: What the score is gripped on, for a format that does not say it.

        Returns:
            A value that compares by what it holds.
        """

    def kept(self, score: Score, /) -> object:
        """What the format keeps of a score: equal to what is read from its file."""


class KindError(TypeError):
    """A value that is not of the kind its hook gives, or has a name that breaks the rule."""


@attrs.frozen
class Kind(Generic[T]):
    """One kind of value: where it comes from, how it is checked and named.

    Args:
        hook: The hook that gives it.
        noun: What one is called in messages.
        read: Returns the value it is given, or raises `KindError` with what is wrong.
        name_of: The name by which a value is looked up.
        usual_from: The distribution that brings the usual ones; empty where none does.
    """

    hook: str
    noun: str
    read: Callable[[object], T]
    name_of: Callable[[T], str]
    usual_from: str = ""

    def checked(self, value: object) -> tuple[str, T]:
        """Return the value behind its name.

        Raises:
            KindError: The value is not of this kind, or its name breaks the rule for names.
        """
        if isinstance(value, type):
            raise KindError(f"{shown(value)} is a class where an object is needed")
        known = self.read(value)
        name = self.name_of(known)
        if not _NAME.fullmatch(name):
            raise KindError(
                f"the {self.noun} name {shown(name)} is not lower-case ASCII letters, digits and"
                " hyphens that start with a letter"
            )
        return name, known


def shown(value: object) -> str:
    """Return a short ASCII text for a stranger's value, whose own may be long or fail.

    Where the value lies in memory is left out, so that equal requests are answered alike.
    """
    try:
        text = _ADDRESS.sub("", ascii(value))
    except Exception:  # noqa: BLE001 - a stranger's repr may raise anything
        text = f"<{type(value).__name__}>"
    return text if len(text) <= _SHOWN else f"{text[: _SHOWN - 3]}..."


def _want(value: object, kind: str, wanted: _Wanted) -> None:
    """Raise `KindError` with the first attribute that is missing or wrong."""
    for attribute, fits in wanted.items():
        if not hasattr(value, attribute):
            raise KindError(f"{shown(value)} is not {kind}: it has no {attribute!r}")
        held = getattr(value, attribute)
        if not fits(held):
            raise KindError(f"{shown(value)} is not {kind}: its {attribute!r} is {shown(held)}")


def _is_text(value: object) -> bool:
    return isinstance(value, str)


def _is_tuple_of_texts(value: object) -> bool:
    return isinstance(value, tuple) and all(isinstance(item, str) for item in value)


def _is_many(value: object) -> bool:
    return isinstance(value, Collection) and not isinstance(value, str)


def _instrument(value: object) -> Instrument:
    if not isinstance(value, Instrument):
        raise KindError(f"{shown(value)} is not an Instrument")
    return value


def _strategy(value: object) -> VoicingStrategy:
    wanted: _Wanted = {"name": _is_text, "summary": _is_text, "recipes": callable}
    _want(value, "a VoicingStrategy", wanted)
    return cast("VoicingStrategy", value)


def _rhythm_family(value: object) -> RhythmFamily:
    wanted: _Wanted = {
        "name": _is_text,
        "summary": _is_text,
        "meters": _is_many,
        "patterns": callable,
    }
    _want(value, "a RhythmFamily", wanted)
    return cast("RhythmFamily", value)


def _exporter(value: object) -> Exporter:
    wanted: _Wanted = {
        "name": _is_text,
        "summary": _is_text,
        "suffixes": _is_tuple_of_texts,
        "media_type": _is_text,
        "export": callable,
    }
    _want(value, "an Exporter", wanted)
    return cast("Exporter", value)


INSTRUMENTS: Final = Kind(
    hook="gripwright_instruments",
    noun="instrument",
    read=_instrument,
    name_of=lambda instrument: instrument.id,
    usual_from="gripwright-tunings",
)
STRATEGIES: Final = Kind(
    hook="gripwright_voicing_strategies",
    noun="strategy",
    read=_strategy,
    name_of=lambda strategy: strategy.name,
)
RHYTHM_FAMILIES: Final = Kind(
    hook="gripwright_rhythm_families",
    noun="rhythm family",
    read=_rhythm_family,
    name_of=lambda family: family.name,
)
EXPORTERS: Final = Kind(
    hook="gripwright_exporters",
    noun="exporter",
    read=_exporter,
    name_of=lambda exporter: exporter.name,
)
