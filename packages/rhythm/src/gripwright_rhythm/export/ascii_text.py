"""Texts in ASCII, for files that hold nothing else."""

from __future__ import annotations

import unicodedata


def ascii_text(text: str) -> str:
    """A text in printable ASCII: letters without their accents, ``?`` for what has no such form.

    Args:
        text: Any text; line ends become spaces.

    Example:
        >>> ascii_text("Étude in B\u266d")
        'Etude in Bb'
    """
    signs = text.translate(_SIGNS)
    plain = "".join(
        one for one in unicodedata.normalize("NFKD", signs) if not unicodedata.combining(one)
    )
    return "".join(one if " " <= one <= "~" else " " if one.isspace() else "?" for one in plain)


# What musicians and typesetters write most, with the signs that stand for it on any keyboard.
_SIGNS = str.maketrans(
    {
        "\u266d": "b",
        "\u266f": "#",
        "\u2018": "'",
        "\u2019": "'",
        "\u201c": '"',
        "\u201d": '"',
        "\u2013": "-",
        "\u2014": "-",
    }
)
