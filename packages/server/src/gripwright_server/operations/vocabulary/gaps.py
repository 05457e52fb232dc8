"""What a vocabulary has and what it lacks, as an operation."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

import attrs

from gripwright.vocabulary import category_in_words
from gripwright_server.operations.option import option
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.store import Overview, overview

if TYPE_CHECKING:
    from gripwright.vocabulary import Category


@attrs.frozen(kw_only=True)
class GapsRequest:
    """How many gaps."""

    limit: int | None = option(help="how many are shown", default=20, ge=1)


@attrs.frozen(kw_only=True)
class GapRow:
    """A row: something that the vocabulary lacks.

    Args:
        sentence: The gap in words.
        quality: The kind of chord, by its suffix.
        strings: The strings on which it is missing, 1 on the treble side; None for all.
        top_degree: The degree that is never on top there; None for any.
        bass_degree: The degree that is never in the bass there; None for any.
    """

    sentence: str
    quality: str
    strings: tuple[int, ...] | None
    top_degree: str | None
    bass_degree: str | None


@attrs.frozen
class GapsResult:
    """A vocabulary by kind of chord, and its gaps.

    Args:
        overview: Both.
    """

    overview: Overview

    @property
    def count(self) -> int:
        """Gaps that were looked for."""
        return len(self.overview.gaps)

    @property
    def returned(self) -> int:
        """Gaps that `rows` yields: all."""
        return len(self.overview.gaps)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    @property
    def facts(self) -> dict[str, Any]:
        """What there is of each kind of chord."""
        return {"categories": [_category(one) for one in self.overview.categories]}

    def rows(self) -> Iterator[GapRow]:
        """One row a gap, the earliest to fill first."""
        for gap in self.overview.gaps:
            yield GapRow(
                sentence=gap.sentence,
                quality=gap.quality.name,
                strings=None if gap.group is None else gap.group.strings,
                top_degree=None if gap.top is None else str(gap.top),
                bass_degree=None if gap.bass is None else str(gap.bass),
            )


def gaps(request: GapsRequest, desk: Desk) -> GapsResult:
    """Count the grips by kind of chord, and find the gaps.

    Raises:
        ConditionError: There is no profile yet.
        StoreError: The store cannot be read.
    """
    with desk.store() as store:
        return GapsResult(overview(store, limit=request.limit))


def _category(category: "Category") -> dict[str, Any]:
    return {
        "category": category.name,
        "words": category_in_words(category.name),
        "count": category.count,
        "families": [list(pair) for pair in category.families],
        "strings": [[list(strings), count] for strings, count in category.string_sets],
        "tops": [[str(top), count] for top, count in category.tops],
        "inversions": [list(pair) for pair in category.inversions],
    }


GAPS: Final = StoreOperation(
    name="gaps",
    summary="Count the grips by kind of chord, and show what is missing",
    collection="gaps",
    request=GapsRequest,
    function=gaps,
    result=GapsResult,
    row=GapRow,
    formats=("json", "ndjson", "csv"),
)
"""Gaps as an operation."""
