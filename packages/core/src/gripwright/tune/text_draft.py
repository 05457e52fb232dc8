"""What a chart is while its text is being read: drafts of bars and sections, then its parts."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Generic, TypeVar

import attrs

from gripwright.tune.bar import Bar
from gripwright.tune.section import Section, Settings
from gripwright.tune.text_tokens import Token

S = TypeVar("S")


@attrs.frozen
class ChartText(Generic[S]):
    """What the text of a chart says, part by part.

    Args:
        sections: The sections.
        settings: What holds in the whole chart.
        title: The title, if any.
        pickup: Quarters in the first bar, where it is shorter than its metre; else 0.
        comments: Comments before the first section.
    """

    sections: tuple[Section[S], ...]
    settings: Settings
    title: str | None
    pickup: Fraction
    comments: tuple[str, ...]


class BarDraft(Generic[S]):
    """A bar that is being read: its signs come before and after its chords.

    Args:
        place: Line, column and text of what stands in it, for faults.
        plain: The bar itself, where it holds nothing but symbols.
    """

    __slots__ = ("fields", "hits", "places", "plain", "sound", "tokens")

    def __init__(self, place: tuple[int, int, str], plain: Bar[S] | None = None) -> None:
        self.plain = plain
        self.fields: dict[str, Any] = {}
        self.places: dict[str, tuple[int, int, str]] = {"": place}
        self.tokens: list[Token] = []
        self.hits: Token | None = None
        self.sound = True

    def built(self) -> Bar[S]:
        """The bar with all that was put into it."""
        if self.plain is None:
            return Bar(**self.fields)
        return attrs.evolve(self.plain, **self.fields) if self.fields else self.plain

    def put(self, field: str, value: object, line: int, token: Token) -> None:
        """Set a field, and keep the place of the first token that did."""
        self.fields[field] = value
        self.places.setdefault(field, (line, token.column, token.text))


class SectionDraft(Generic[S]):
    """A section that is being read.

    Args:
        name: Its name, if any.
        place: Line, column and text of its heading; no text where there is none.
    """

    def __init__(self, name: str | None, place: tuple[int, int, str]) -> None:
        self.name = name
        self.place = place
        self.values: dict[str, Any] = {}
        self.comments: list[str] = []
        self.bars: list[BarDraft[S]] = []
