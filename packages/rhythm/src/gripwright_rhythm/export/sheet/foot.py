"""The foot of a sheet: what its signs mean, notes to the player, and cautions."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

import attrs

from gripwright import diagram
from gripwright_rhythm.export.sheet.face import lines_of, readable, text_width
from gripwright_rhythm.export.sheet.paper import Paper
from gripwright_rhythm.export.sheet.strip import (
    STANDS_OUT,
    TAG_SIZE,
    Sounding,
    Strip,
    Tick,
    drawn_strip,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright import Score
    from gripwright_rhythm.export.sheet.colours import Colours

CAUTIONS: Final = (
    "Warm up first and begin with easy grips. Take a break at least every 25 to 30 minutes. Stop"
    " at once on pain, numbness, tingling or weakness. Keep the click at a level that is safe for"
    " your ears. This is not medical advice: ask a licensed clinician."
)
"""What the foot of every page says."""

MOST_NOTES: Final = 14
"""Lines of notes that a page holds at most."""

_SIZE: Final = 7.0
_LINE: Final = 9.0
_SIGNS: Final = 29.0
_TRACK: Final = 9.0
_QUARTER: Final = 22.0
_BETWEEN: Final = 13.0
_ONE: Final = Fraction(1)


@attrs.frozen
class Foot:
    """A foot.

    Args:
        notes: Notes to the player, a sentence each.
        paper: The paper.
        signs: The names of the signs that it explains, of `SIGNS`.
    """

    notes: tuple[str, ...]
    paper: Paper
    signs: frozenset[str]

    @property
    def height(self) -> float:
        """How high it is."""
        return _SIGNS + _LINE * len(self._lines()) + 3.0

    def _lines(self) -> list[str]:
        room = self.paper.room
        notes = lines_of(readable(" ".join(self.notes)), room, _SIZE)
        if len(notes) > MOST_NOTES:
            notes = [*notes[: MOST_NOTES - 1], "More notes stand in the score."]
        return [*notes, *lines_of(CAUTIONS, room, _SIZE)]

    def marks(self, colours: Colours) -> Iterator[diagram.Mark]:
        """Draw it at the bottom of the page."""
        paper = self.paper
        y = paper.bottom - self.height
        yield diagram.Line(paper.margin, y, paper.right, y, 0.5, colours.ink)
        yield from _drawn_signs(self.signs, paper.margin, y + 4.0 + STANDS_OUT, paper.room, colours)
        y += _SIGNS + _LINE / 2
        for line in self._lines():
            yield diagram.Words(paper.margin, y, line, _SIZE, colours.ink, "start")
            y += _LINE


def signs_of(score: Score) -> frozenset[str]:
    """The names of the signs that a score needs explained."""
    found = {"beat"}
    for event in score.events:
        found.add("approach" if event.approach else "short" if event.short else "long")
        found |= {"push"} if event.push else set()
        found |= {"accent"} if event.accent else set()
    return frozenset(found | ({"click"} if score.clicks else set()))


def _drawn_signs(
    names: frozenset[str], x: float, y: float, room: float, colours: Colours
) -> Iterator[diagram.Mark]:
    """What the signs of a time strip mean, in one line.

    Args:
        names: The signs that are explained.
        x: Its left edge.
        y: The upper edge of the bars.
        room: Its width.
        colours: The colours.
    """
    shown = [sign for sign in SIGNS if sign.name in names]
    fixed = sum(sign.width for sign in shown) + (len(shown) - 1) * _BETWEEN
    words = sum(text_width(sign.words, _SIZE) for sign in shown)
    size = _SIZE * min(1.0, (room - fixed) / words)
    for sign in shown:
        if sign.strip is None:
            tag = diagram.Words(x, y + _TRACK / 2, sign.tag, TAG_SIZE, colours.ink, "start")
            yield attrs.evolve(tag, bold=True)
        else:
            yield from drawn_strip(sign.strip, x, y, scale=_QUARTER, height=_TRACK, colours=colours)
        x += sign.width
        yield diagram.Words(x, y + _TRACK / 2, sign.words, size, colours.ink, "start")
        x += text_width(sign.words, size) + _BETWEEN


@attrs.frozen
class Sign:
    """A sign with what it means.

    Args:
        name: What it is called here.
        words: What it means.
        strip: A strip that shows it, or None for a text.
        tag: The text.
    """

    name: str
    words: str
    strip: Strip | None = None
    tag: str = ""

    @property
    def width(self) -> float:
        """How wide it is, with the space after it."""
        quarters = 0.0 if self.strip is None else float(self.strip.length) * _QUARTER
        return (quarters or text_width(self.tag, TAG_SIZE, bold=True)) + 4.0


_NOUGHT: Final = Fraction(0)
_HALF: Final = Fraction(1, 2)

SIGNS: Final = (
    Sign(
        "long", "held: sounds as long as it is drawn", Strip(_ONE, (Sounding(_NOUGHT, _ONE),), ())
    ),
    Sign(
        "short",
        "short: damp it where it ends",
        Strip(_ONE, (Sounding(_NOUGHT, _HALF, "short"),), ()),
    ),
    Sign("approach", "approach", Strip(_ONE, (Sounding(_NOUGHT, _ONE, "approach"),), ())),
    Sign("push", "comes in ahead of its beat", tag="\u2192C"),
    Sign("accent", "accent", tag=">"),
    Sign("beat", "beat", Strip(_HALF, (), (Tick(_HALF / 2, "3"),))),
    Sign("click", "click", Strip(_HALF, (), (Tick(_HALF / 2, "4"),), ((_HALF / 2, False),))),
)
"""The signs of time strips, each with what it means."""
