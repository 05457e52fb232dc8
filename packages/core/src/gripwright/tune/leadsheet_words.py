"""Words in a score that say where to go and how it feels (common practice of notation)."""

from __future__ import annotations

import re
from typing import Final, cast

from gripwright.tune.bar import JumpText
from gripwright.tune.section import LONGEST_NAME, is_name

_BACK: Final = re.compile(r"\b(d\.?\s?c\b|da\s+capo)|\b(d\.?\s?s\b|dal\s+segno)|(d\.?\s*𝄋)")
_CODA_SIGN: Final = r"(?:coda\b|𝄌|⊕|\U0001d10c)"
_AL_CODA: Final = re.compile(rf"\b(?:al|to|e\s+poi)\s+(?:the\s+)?{_CODA_SIGN}")
_TO_CODA: Final = re.compile(rf"(?:to|al)\s+(?:the\s+)?{_CODA_SIGN}")
_AL_FINE: Final = re.compile(r"\bal\s+fine\b")
_OPEN: Final = re.compile(r"open|vamp|(open|vamp|repeat).*(ad lib|till? cue|on cue|open)\b.*")
_FEEL: Final = re.compile(
    r"\b(swing|swung|shuffle|bossa|samba|latin|even|straight|ballad|waltz|rock|funk|blues|march"
    r"|mambo|bolero|rumba|salsa|tango|reggae|gospel|bebop|afro)"
)


def jump_in(words: str) -> JumpText | None:
    """The jump that words ask for, or None.

    Example:
        >>> jump_in("D.S. al Coda"), jump_in("Da Capo al Fine"), jump_in("dal segno")
        ('D.S. al Coda', 'D.C. al Fine', 'D.S.')
    """
    text = _plain(words)
    match = _BACK.search(text)
    if match is None:
        return None
    start = "D.C." if match[1] else "D.S."
    if _AL_CODA.search(text, match.end()):
        return cast("JumpText", f"{start} al Coda")
    if _AL_FINE.search(text, match.end()):
        return cast("JumpText", f"{start} al Fine")
    return cast("JumpText", start)


def sign_in(words: str) -> str | None:
    """The sign that words stand for: ``to_coda``, ``coda``, ``segno``, ``fine`` or ``open``.

    Example:
        >>> sign_in("To Coda"), sign_in("Fine"), sign_in("Coda"), sign_in("Con brio")
        ('to_coda', 'fine', 'coda', None)
    """
    text = _plain(words)
    if jump_in(words) is not None:
        return None
    if _TO_CODA.match(text):
        return "to_coda"
    if _OPEN.fullmatch(text):
        return "open"
    return {"coda": "coda", "𝄌": "coda", "segno": "segno", "𝄋": "segno", "fine": "fine"}.get(text)


def feel_in(words: str) -> str | None:
    """The feel that words name, or None: the words as they stand.

    Example:
        >>> feel_in("Medium  Swing"), feel_in("rit.")
        ('Medium Swing', None)
    """
    return name_in(words) if _FEEL.search(_plain(words)) else None


def name_in(words: str) -> str | None:
    r"""Words as a name that a chart can hold, without the signs that it cannot; None if empty.

    Example:
        >>> name_in("[A]"), name_in(" Verse\n 2 "), name_in("|")
        ('A', 'Verse 2', None)
    """
    name = " ".join(re.sub(r"[\[\]|;\x00-\x1f\x7f]", " ", words).split())[:LONGEST_NAME].strip()
    return name if is_name(name) else None


def _plain(words: str) -> str:
    return " ".join(words.lower().split()).strip(" .()[]-–*\"'")  # noqa: RUF001 - files carry both dashes
