"""Pieces: the text of elements as it stands in a measure of the file."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Final, TypeVar
from xml.etree.ElementTree import Element, indent, tostring

Look = TypeVar("Look", bound=Hashable)

_DEPTH: Final = 3
_PAD: Final = "  " * _DEPTH


def texts_of(parent: Element) -> str:
    r"""The children of an element as lines of a measure.

    Example:
        >>> from gripwright.tune.musicxml_elements import add_element
        >>> measure = Element("measure")
        >>> _ = add_element(measure, "backup")
        >>> texts_of(measure)
        '      <backup />\n'
    """
    indent(parent, level=_DEPTH - 1)
    texts = []
    for child in parent:
        child.tail = None
        texts.append(f"{_PAD}{tostring(child, encoding='unicode')}\n")
    return "".join(texts)


class Pieces:
    r"""Texts of elements, each made once: most measures of a drill hold the same few.

    Example:
        >>> from gripwright.tune.musicxml_elements import add_element
        >>> pieces = Pieces()
        >>> pieces.text(lambda parent, look: add_element(parent, "duration", look), 4)
        '      <duration>4</duration>\n'
    """

    def __init__(self) -> None:
        self._known: dict[Hashable, str] = {}

    def text(self, add: Callable[[Element, Look], object], look: Look) -> str:
        """The text of what adds itself to an element.

        Args:
            add: Adds elements to the one that it is given.
            look: What they look like; equal looks of one type are written alike.
        """
        known = self._known.get(look)
        if known is None:
            parent = Element("measure")
            add(parent, look)
            known = self._known[look] = texts_of(parent)
        return known
