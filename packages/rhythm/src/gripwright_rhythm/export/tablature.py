"""Scores as text tablature."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

from gripwright.errors import ConditionError
from gripwright_rhythm.export.ascii_text import ascii_text
from gripwright_rhythm.export.tablature_grid import grid_of
from gripwright_rhythm.export.tablature_system import LABEL, TabPage
from gripwright_rhythm.export.tablature_words import cautions, heading, passages, signs

if TYPE_CHECKING:
    from gripwright import Score

USUAL_WIDTH: Final = 80
NARROWEST: Final = 60
WIDEST: Final = 400
"""Columns of a line at least and at most."""


@attrs.frozen
class TextExporter:
    """Writes tablature in ASCII: a line for each string, the treble side on top.

    A fret stands where a chord starts, and ``=`` after it for as long as it sounds, so that the
    length is seen; ``-`` is silence, ``x`` a muted string. All columns last equally long. Over
    the strings stand the chords, with ``>`` where one anticipates and in brackets where it leads
    on; under them the beats, what the right hand does, the clicks, and bass and root where the
    score has them. Times are as written, with swing taken out. A chorus that is like an earlier
    one is said and not drawn again. Texts that are not ASCII lose their accents.

    Args:
        width: Columns of a line, 60 to 400.

    Raises:
        ConditionError: A width out of range.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> for line in TextExporter().export(sample_score()).decode().splitlines()[11:18]:
        ...     print(line)
           1: Dm7              G7
           E4|x---------------|x---------------|
           B3|6===============|3===------------|
           G3|5===============|4===------------|
           D3|7===============|3===------------|
           A2|5===============|x---------------|
           E2|x---------------|3===------------|
    """

    name: ClassVar[str] = "text"
    summary: ClassVar[str] = "text tablature that shows how long each chord sounds"
    suffixes: ClassVar[tuple[str, ...]] = (".txt", ".tab")
    media_type: ClassVar[str] = "text/plain"

    width: int = attrs.field(default=USUAL_WIDTH)

    @width.validator
    def _check_width(self, _attribute: object, value: int) -> None:
        if not NARROWEST <= value <= WIDEST:
            raise ConditionError(
                name="width", value=value, expected=f"{NARROWEST} to {WIDEST} columns"
            )

    def export(self, score: Score, /) -> bytes:
        """Write a score.

        Args:
            score: The score.

        Returns:
            The file; equal for equal scores.

        Raises:
            ConditionError: Attacks so close together that a beat does not fit into a line.
        """
        return ("\n".join(self._lines(score)).rstrip("\n") + "\n").encode("ascii")

    def _lines(self, score: Score) -> Iterator[str]:
        found = list(passages(score))
        drawn = [bar for passage in found for bar in passage.bars]
        yield from self._wrapped(heading(score))
        yield ""
        if drawn:
            yield from self._wrapped([signs(drawn)])
            yield ""
            grid = grid_of(drawn, self.width - LABEL - 1)
            strings = tuple(str(string.open) for string in score.instrument.strings)
            page = TabPage(strings, grid, self.width)
        for passage in found:
            if passage.words:
                yield from self._wrapped([passage.words])
                yield ""
            if passage.bars:
                yield from page.lines(passage.bars)
        if drawn:
            yield from self._wrapped(cautions(score, grid))

    def _wrapped(self, paragraphs: Iterable[str]) -> Iterator[str]:
        for paragraph in paragraphs:
            yield from textwrap.wrap(ascii_text(paragraph), self.width)
