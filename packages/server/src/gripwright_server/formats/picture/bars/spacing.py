"""How the chord symbols of a bar stand: at their beats, or as near as they can be read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from gripwright.neck.diagram.picture import width_in_ems

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gripwright.tune.bar import Slot
    from gripwright.tune.written import WrittenBar

NO_CHORD: Final = "N.C."

_LARGEST: Final = 25
_SMALLEST: Final = 4
_BETWEEN: Final = 7.0
_HELD_BETWEEN: Final = 14.0
_MOST_ASIDE: Final = 26.0
"""How far a symbol moves from its beat at most before all of the bar become smaller."""


def symbol_text(slot: Slot[Any]) -> str:
    """What is written for a chord, or for none."""
    return NO_CHORD if slot.symbol is None else str(slot.symbol)


def placed_symbols(
    written: WrittenBar[Any], left: float, right: float
) -> tuple[float, tuple[float, ...]]:
    """The largest size at which the symbols of a bar keep clear of one another.

    Symbols start at their beats. Where they have no room they move a little aside, for a beat is
    found more easily than a small letter is read; where that is not enough all become smaller.

    Args:
        written: The bar.
        left: Where its first beat stands.
        right: Where its last ends.

    Returns:
        The size, and where each symbol starts.

    Example:
        >>> from gripwright import Chart
        >>> bar = Chart.parse("| Dm7 G7 |").written[0]
        >>> placed_symbols(bar, 0.0, 160.0)
        (25.0, (0.0, 80.0))
        >>> size, places = placed_symbols(bar, 0.0, 80.0)
        >>> size < 25.0, places[0]
        (True, 0.0)
    """
    slots = written.bar.slots
    at = [left + float(slot.onset / written.length) * (right - left) for slot in slots]
    ems = [width_in_ems(symbol_text(slot)) for slot in slots]
    spaces = [_HELD_BETWEEN + _BETWEEN if slot.held else _BETWEEN for slot in slots]
    for size in range(_LARGEST, _SMALLEST, -1):
        widths = [em * size + space for em, space in zip(ems, spaces, strict=True)]
        # A held chord stands in an outline, which starts at its beat.
        places = _side_by_side(at, widths, right)
        aside = max((abs(one - two) for one, two in zip(places, at, strict=True)), default=0.0)
        if aside <= _MOST_ASIDE and (not places or places[0] >= left):
            return float(size), _inside(slots, places)
    # Symbols that stand closer than they can be read overlap rather than vanish.
    return float(_SMALLEST), _inside(slots, at)


def _side_by_side(at: Sequence[float], widths: Sequence[float], right: float) -> list[float]:
    """Move symbols right until none overlaps the one before, then left as far as they stick out."""
    places: list[float] = []
    edge = float("-inf")
    for wanted, width in zip(at, widths, strict=True):
        places.append(max(wanted, edge))
        edge = places[-1] + width
    edge = right
    for index in range(len(places) - 1, -1, -1):
        places[index] = min(places[index], edge - widths[index])
        edge = places[index]
    return places


def _inside(slots: Sequence[Slot[Any]], places: Sequence[float]) -> tuple[float, ...]:
    """Where the text starts: inside its outline, if it has one."""
    return tuple(
        place + (_HELD_BETWEEN / 2 if slot.held else 0.0)
        for slot, place in zip(slots, places, strict=True)
    )
