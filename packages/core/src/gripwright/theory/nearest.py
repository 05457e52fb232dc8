"""The nearest readable chord symbol to one that cannot be read."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator
from typing import Final

_LIKELY: Final = "b#79m65(1)"
_FALLBACK: Final = "C"
_SHORT: Final = 3


def nearest_symbol(
    text: str, position: int, *, suffixes: Iterable[str], readable: Callable[[str], bool]
) -> str:
    """The nearest text that can be read.

    First what one keystroke would mend, at the place of the fault before elsewhere; then the
    known suffix that looks most alike; then as much as can be read from the left.

    Args:
        text: The text that cannot be read.
        position: Where it fails.
        suffixes: Known suffixes.
        readable: Tells whether a text can be read.

    Returns:
        A readable text.

    Example:
        >>> nearest_symbol("dm7", 0, suffixes=["m7"], readable=lambda text: text == "Dm7")
        'Dm7'
    """
    position = len("".join(text[:position].split()))
    text = "".join(text.split())
    candidates = (*_one_keystroke(text, position), *_look_alikes(text, suffixes))
    return next(
        (candidate for candidate in candidates if readable(candidate)),
        next((head for head in _heads(text) if readable(head)), _FALLBACK),
    )


def _one_keystroke(text: str, position: int) -> Iterator[str]:
    places = sorted(range(len(text)), key=lambda place: (abs(place - position), place))
    for place in places:
        yield text[:place] + text[place].swapcase() + text[place + 1 :]
    if text[position : position + 1] in {"H", "h"}:
        yield text[:position] + "B" + text[position + 1 :]
    for place in places:
        yield text[:place] + text[place + 1 :]
    for place in places[:-1]:
        yield text[:place] + text[place : place + 2][::-1] + text[place + 2 :]
    if len(text) > _SHORT:
        yield text[:-2]
    for sign in _LIKELY:
        yield text[:position] + sign + text[position + 1 :]
        yield text[:position] + sign + text[position:]


def _look_alikes(text: str, suffixes: Iterable[str]) -> Iterator[str]:
    root = text[:1].upper()
    length = 1 + len(text[1:]) - len(text[1:].lstrip("b#"))
    spellings = {
        suffix.replace("maj", long).replace("m", short, 1)
        if not suffix.startswith("maj")
        else suffix.replace("maj", long)
        for suffix in suffixes
        for long in ("maj", "major")
        for short in ("m", "min", "minor")
    }
    rest = text[length:].lower()
    for near in difflib.get_close_matches(rest, sorted(spellings)):
        yield root + text[1:length] + near


def _heads(text: str) -> Iterator[str]:
    for start in (text, text[:1].upper() + text[1:]):
        for size in range(len(start), 0, -1):
            yield start[:size]
