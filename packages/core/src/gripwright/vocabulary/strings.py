"""Groups of neighbouring strings, on which players sort their grips."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import attrs

from gripwright.vocabulary.words import listed

_USUAL_SIZE: Final = 4
_LOW, _INNER, _TOP = "the low strings", "the inner strings", "the top strings"


@attrs.frozen
class StringGroup:
    """Neighbouring strings.

    Args:
        words: What players call them, such as ``"the inner strings"``.
        strings: Their numbers, 1 on the treble side, from the bass side.

    Example:
        >>> string_groups(6)[0].words
        'the inner strings'
    """

    words: str
    strings: tuple[int, ...]

    def holds(self, string_set: Iterable[int]) -> bool:
        """Whether some strings all belong to it.

        Example:
            >>> string_groups(6)[0].holds((4, 3, 2))
            True
        """
        return set(string_set) <= set(self.strings)


def string_groups(count: int, size: int = _USUAL_SIZE) -> tuple[StringGroup, ...]:
    """The groups of an instrument: the inner ones first, then the top, then the low.

    Args:
        count: Strings of the instrument, 1 or more.
        size: Strings of a group; all strings, where there are no more.

    Example:
        >>> [(group.words, group.strings) for group in string_groups(6)][:2]
        [('the inner strings', (5, 4, 3, 2)), ('the top strings', (4, 3, 2, 1))]
        >>> [group.words for group in string_groups(4)]
        ['all strings']
    """
    if count <= size:
        return (StringGroup("all strings", tuple(range(count, 0, -1))),)
    windows = [tuple(range(high, high - size, -1)) for high in range(size, count + 1)]
    top, low, inner = windows[0], windows[-1], windows[1:-1]
    ordered = [*inner[::-1], top, low]
    return tuple(StringGroup(in_words(strings, count), strings) for strings in ordered)


def in_words(string_set: tuple[int, ...], count: int) -> str:
    """Some strings of an instrument as players say them.

    Args:
        string_set: Numbers of the strings, 1 on the treble side, from the bass side.
        count: Strings of the instrument.

    Example:
        >>> in_words((5, 4, 3, 2), 6), in_words((6, 4, 3, 2), 6), in_words((3, 2, 1), 6)
        ('the inner strings', 'strings 6, 4, 3 and 2', 'strings 3 to 1')
    """
    if len(string_set) == count:
        return "all strings"
    high, low = string_set[0], string_set[-1]
    together = high - low == len(string_set) - 1
    if together and len(string_set) == _USUAL_SIZE and count <= _USUAL_SIZE + 2:
        if low == 1:
            return _TOP
        return _LOW if high == count else _INNER
    if together and len(string_set) > 1:
        return f"strings {high} to {low}"
    several = "s" if len(string_set) > 1 else ""
    return f"string{several} {listed(list(map(str, string_set)))}"
