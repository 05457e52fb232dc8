"""Cards: a chord symbol with its grip, as it stands over the time strip of a bar."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final, Literal

import attrs

from gripwright import Hand, Voicing, diagram
from gripwright_rhythm.export.sheet.face import cut, fitted, text_width
from gripwright_rhythm.export.sheet.signs import NO_CHORD, symbol_of, typeset

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright_rhythm.export.sheet.colours import Colours
    from gripwright_rhythm.export.sheet.drawn_bar import DrawnBar

Role = Literal["chord", "held", "approach"]

LEAST_WIDTH: Final = 26.0
"""Points that a card without a neck needs to be read."""

NECK_WIDTH: Final = 50.0
"""Points that a card with a neck needs for its dots to be read."""

_PAD: Final = 2.5
_AFTER: Final = 3.5
_SIZES: Final[dict[Role, float]] = {"chord": 14.0, "held": 11.0, "approach": 9.5}
# A card that is narrower than this has a smaller symbol, so that its neck has room beside it.
_USUAL_WIDTH: Final = 90.0
_NARROW: Final = 0.85
_ALONE: Final = 1.3
_LEAST: Final = 3.5
_SHAPE: Final = 6.6
_SMALL_SHAPE: Final = 5.4
_BESIDE: Final = 4.0
_MOST_SCALE: Final = 0.66
# How much larger a neck beside its symbol must be than below it where a bar has several cards:
# necks of a bar stand at one height.
_LARGER: Final = 1.3
# Below this the labels in the dots could not be read; the dots remain.
_LABELLED: Final = 0.335


@attrs.frozen(kw_only=True)
class Grips:
    """How grips are drawn.

    Args:
        drawn: Whether they are drawn at all.
        label: What the dots carry, a name of `gripwright.diagram.LABELS`.
        left_handed: Whether necks stand in a mirror.
        hand: The hand whose fingers are named; the usual one if None.
    """

    drawn: bool = True
    label: str = "degree"
    left_handed: bool = False
    hand: Hand | None = None


@attrs.frozen
class Card:
    """A chord to be gripped.

    Args:
        time: Quarters from the start of the bar.
        text: The symbol.
        voicing: The grip, or None where nothing is gripped.
        role: Whether the chord starts here, goes on from the bar before, or is an approach.
    """

    time: Fraction
    text: str
    voicing: Voicing | None
    role: Role = "chord"


def cards_of(bar: DrawnBar) -> tuple[Card, ...]:
    """The cards of a bar, by time.

    There is one for each chord of the chart, one for each approach, and one where the grip of a
    chord changes. Attacks of the same grip share one.

    Args:
        bar: The bar.
    """
    cards = [
        Card(
            one.start, symbol_of(one.change.chord), one.voicing, "held" if one.goes_on else "chord"
        )
        for one in bar.harmonies
    ]
    for piece in bar.pieces:
        event = piece.event
        if not piece.attacked or event.push:
            continue
        before = [card for card in cards if card.time <= piece.start]
        grip = before[-1].voicing if before else None
        if event.approach or (grip is not None and grip.frets != event.voicing.frets):
            symbol = symbol_of(event.chord)
            text, role = (f"({symbol})", "approach") if event.approach else (symbol, "chord")
            if before and before[-1].text == text and grip == event.voicing:
                continue
            card = Card(
                piece.start, text, event.voicing, "approach" if role == "approach" else "chord"
            )
            # What starts where a chord of the chart would go on stands in its place.
            cards = [one for one in cards if one.time != card.time or one.role == "chord"]
            cards.append(card)
            cards.sort(key=lambda one: one.time)
    return tuple(cards)


def least_width(card: Card, *, again: bool, grips: Grips) -> float:
    """Points that a card needs to be read.

    Args:
        card: The card.
        again: Whether its grip is the one drawn before it, so that its shape is enough.
        grips: How grips are drawn.
    """
    return NECK_WIDTH if grips.drawn and card.voicing is not None and not again else LEAST_WIDTH


def places_of(
    cards: Sequence[Card], widths: Sequence[float], left: float, right: float, scale: float
) -> list[tuple[float, float]]:
    """Where each card of a bar starts and how wide it is.

    Cards start at their times. Where they have no room they move aside; where that is not enough
    all become narrower.

    Args:
        cards: The cards.
        widths: Points that each needs to be read.
        left: Where the bar starts.
        right: Where it ends.
        scale: Points to a quarter.
    """
    if not cards:
        return []
    narrower = min(1.0, (right - left) / sum(widths))
    starts: list[float] = []
    edge = left
    for card, width in zip(cards, widths, strict=True):
        starts.append(max(left + float(card.time) * scale, edge))
        edge = starts[-1] + width * narrower
    edge = right
    for index in range(len(starts) - 1, -1, -1):
        starts[index] = min(starts[index], edge - widths[index] * narrower)
        edge = starts[index]
    ends = [*starts[1:], right]
    return [
        (start + _PAD, max(1.0, end - start - _PAD - _AFTER))
        for start, end in zip(starts, ends, strict=True)
    ]


def drawn_card(
    card: Card,
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    again: bool,
    grips: Grips,
    colours: Colours,
) -> Iterator[diagram.Mark]:
    """Draw a card.

    Args:
        card: The card.
        x: Its left edge.
        y: Its upper edge.
        width: Its width.
        height: Its height.
        again: Whether its grip is the one drawn before it, so that its shape is enough.
        grips: How grips are drawn.
        colours: The colours.
    """
    bold = card.role == "chord"
    colour = colours.faint if card.role == "held" else colours.ink
    most = _SIZES[card.role] * (1.0 if grips.drawn else _ALONE)
    most = min(most, height * 0.45) * (_NARROW if width < _USUAL_WIDTH else 1.0)
    symbol = fitted(card.text, width, most, _LEAST, bold=bold)
    text = cut(card.text, width, symbol, bold=bold)
    yield diagram.Words(x, y + most / 2, text, symbol, colour, "start", bold=bold)
    if not grips.drawn or card.voicing is None or card.text == NO_CHORD:
        return
    shape = card.voicing.shape
    if again:
        size = fitted(shape, width, _SHAPE, _LEAST)
        yield diagram.Words(
            x, y + most + _SHAPE * 0.8, cut(shape, width, size), size, colours.faint, "start"
        )
        return
    neck = _neck(card.voicing, grips, colours)
    wide = text_width(text, symbol, bold=bold)
    # Beside the symbol or below it, wherever the neck can be larger; among several below it, if
    # its labels can be read there.
    beside = min(height / neck.height, (width - wide - _BESIDE) / neck.width, _MOST_SCALE)
    below = min((height - most - 1.0) / neck.height, width / neck.width, _MOST_SCALE)
    aligned = width < _USUAL_WIDTH and below >= _LABELLED
    if beside >= below * (_LARGER if aligned else 1.0):
        scale, left, top = beside, x + wide + _BESIDE, y
        if text_width(shape, _SMALL_SHAPE) <= wide:
            yield diagram.Words(
                x, y + most + _SMALL_SHAPE, shape, _SMALL_SHAPE, colours.faint, "start"
            )
    else:
        scale, left, top = below, x, y + most + 1.0
    if scale < _LABELLED and grips.label != "none":
        neck = _neck(card.voicing, attrs.evolve(grips, label="none"), colours)
    yield from neck.scaled(scale).moved(left, top).marks


def _neck(voicing: Voicing, grips: Grips, colours: Colours) -> diagram.Picture:
    look = diagram.Look(
        label=grips.label, left_handed=grips.left_handed, theme=colours.theme, compact=True
    )
    fingering = None if grips.hand is None else voicing.fingering(grips.hand)
    neck = diagram.neck_picture(voicing, look, title="", fingering=fingering)
    marks = tuple(
        attrs.evolve(mark, text=typeset(mark.text)) if isinstance(mark, diagram.Words) else mark
        for mark in neck.marks
    )
    return attrs.evolve(neck, marks=marks)
