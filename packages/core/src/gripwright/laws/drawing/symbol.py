"""Chord symbols in every spelling: by their canonical suffix and its aliases, in any signs."""

from __future__ import annotations

from typing import Final

import attrs
from hypothesis import strategies as st

from gripwright.laws.drawing.theory import notes, qualities
from gripwright.theory import Chord

_SIGNS: Final = str.maketrans({"b": "♭", "#": "♯"})
_RAISED: Final = str.maketrans("0123456789+-()", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾")


@attrs.frozen
class Spelling:
    """A chord symbol, and the chord that it means.

    Args:
        text: The symbol, as somebody writes it.
        chord: The chord.
    """

    text: str
    chord: Chord


@st.composite
def spellings(draw: st.DrawFn) -> Spelling:
    """Symbols beside the chords that they mean.

    The suffix is the canonical one of a quality of the table or one of its aliases; flats and
    sharps are letters or signs, numbers are plain or raised, a slash bass stands after some.

    Args:
        draw: Given by Hypothesis.

    Example:
        >>> from hypothesis import find
        >>> found = find(spellings(), lambda one: True)
        >>> Chord.parse(found.text) == found.chord
        True
    """
    quality = draw(qualities())
    root = draw(notes(most_accidentals=2))
    bass = draw(st.one_of(st.none(), st.none(), notes(most_accidentals=1)))
    suffix = draw(st.sampled_from((quality.name, *quality.aliases)))
    head, tail = str(root), "" if bass is None else f"/{bass}"
    if draw(st.booleans()):
        head, suffix, tail = (part.translate(_SIGNS) for part in (head, suffix, tail))
    elif draw(st.booleans()):
        suffix = suffix.translate(_RAISED)
    return Spelling(f"{head}{suffix}{tail}", Chord(root, quality, bass))


def symbols() -> st.SearchStrategy[str]:
    """Chord symbols that can be read, in every spelling.

    Example:
        >>> from hypothesis import find
        >>> find(symbols(), lambda symbol: symbol.startswith("D"))[0]
        'D'
    """
    return spellings().map(lambda spelling: spelling.text)
