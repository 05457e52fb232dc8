"""Top lines as requests write them: pitches with spaces or commas between."""

import re
from typing import TYPE_CHECKING, Final

import gripwright
from gripwright.errors import NotationError

if TYPE_CHECKING:
    from gripwright import Pitch

FREE: Final = "-"
"""What stands for a note that is left free."""

_WORD: Final = re.compile(r"[^\s,]+")


def holds_pitches(text: str) -> bool:
    """Whether a text is meant as pitches, and not as a name: its first word tells.

    Example:
        >>> holds_pitches("E4 - F4"), holds_pitches("dorian b2"), holds_pitches("")
        (True, False, False)
    """
    first = _WORD.search(text)
    return first is not None and (first[0] == FREE or any(map(str.isdigit, first[0])))


def pitches_of_line(text: str) -> "tuple[Pitch | None, ...]":
    """The pitches of a top line, None where it is free.

    Raises:
        NotationError: A word is no pitch, with its position in the whole text.

    Example:
        >>> [str(pitch) for pitch in pitches_of_line("E4, - Bb4")]
        ['E4', 'None', 'Bb4']
    """
    return tuple(
        None if word[0] == FREE else _pitch(text, word.start(), word[0])
        for word in _WORD.finditer(text)
    )


def _pitch(text: str, start: int, word: str) -> "Pitch":
    try:
        return gripwright.Pitch.parse(word)
    except NotationError as error:
        raise NotationError(
            what="top line", text=text, position=start + error.position, expected=error.expected
        ) from None
