"""How players say a kind of chord and a degree."""

from __future__ import annotations

import functools
import tomllib
from importlib.resources import files
from typing import Final

from gripwright.theory.degree import Degree

_ORDINALS: Final = {
    1: "first",
    2: "second",
    3: "third",
    4: "fourth",
    5: "fifth",
    6: "sixth",
    7: "seventh",
    8: "octave",
    9: "ninth",
    10: "tenth",
    11: "eleventh",
    12: "twelfth",
    13: "thirteenth",
}
_SIGNS: Final = {"b": "flat ", "#": "sharp "}


def quality_in_words(name: str) -> str:
    """A kind of chord in words, without an article.

    Qualities that players call by their suffix alone are said so.

    Args:
        name: Name of the quality, such as ``"m7b5"``.

    Example:
        >>> quality_in_words("m7b5"), quality_in_words("7b9b13")
        ('half-diminished', '7b9b13')
    """
    return _table()["quality"].get(name, name)


def degree_in_words(degree: Degree) -> str:
    """A degree in words.

    Args:
        degree: The degree.

    Example:
        >>> [degree_in_words(Degree(text)) for text in ("1", "9", "#11", "b7", "b9")]
        ['root', 'ninth', 'sharp eleventh', 'seventh', 'flat ninth']
    """
    own = _table()["degree"].get(degree)
    if own is not None:
        return own
    signs = "".join(_SIGNS[sign] for sign in degree.rstrip("0123456789"))
    ordinal = _ORDINALS.get(degree.number, f"{degree.number}th")
    return f"{signs}{ordinal}"


def listed(words: list[str], last: str = "and") -> str:
    """Words with commas and a last conjunction between them.

    Args:
        words: The words.
        last: What stands before the last.

    Example:
        >>> listed(["6", "4", "3"]), listed(["Am7", "C6"], "or")
        ('6, 4 and 3', 'Am7 or C6')
    """
    return f" {last} ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


@functools.cache
def _table() -> dict[str, dict[str, str]]:
    text = files("gripwright.vocabulary").joinpath("words.toml").read_text(encoding="utf-8")
    table: dict[str, dict[str, str]] = tomllib.loads(text)
    return table
