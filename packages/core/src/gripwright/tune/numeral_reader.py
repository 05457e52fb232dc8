"""The reader of numerals.

A numeral is a sign, a roman numeral, the suffix of a chord symbol, and after slashes what it is
applied to and its bass. The suffix is read by the reader of chord symbols.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

import attrs

from gripwright.errors import ChordSymbolError, NotationError
from gripwright.named import nearest_names
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.quality import QUALITIES, Quality
from gripwright.tune.numeral_roman import ROMANS

LONGEST_NUMERAL: Final = 80
"""Characters of the longest numeral that is read."""

_BY_LENGTH: Final = sorted(ROMANS, key=len, reverse=True)
_ROMAN: Final = "|".join([*_BY_LENGTH, *map(str.lower, _BY_LENGTH)])
_HEAD: Final = re.compile(rf"(sub(?=V))?([b#♭♯])?({_ROMAN})(?![IViv])")
_TARGET: Final = re.compile(rf"/([b#♭♯])?({_ROMAN})\Z")
_APPLIED: Final = re.compile(rf"/[b#♭♯]?({_ROMAN})(?=/)")
_BASS: Final = re.compile(r"/([b#♭♯])?([1-7])\Z")
_SIGNS: Final = {"♭": "b", "♯": "#"}

_ROOT: Final = "C♮"
"""A root after which every suffix is read as one, be its first character a flat or a sharp."""

_BARE_MAJOR: Final = frozenset({"1", "4", "b2", "b3", "b5", "b6", "#4", "#1"})
"""Degrees of which a bare numeral in capitals is a major seventh, not a dominant."""

_BLUES: Final = frozenset({"1", "4"})
"""Degrees of which it is a dominant in a blues all the same."""

_HEAD_EXPECTED: Final = "a numeral from I to VII or i to vii, with b or # before it or none"
_SLASH_EXPECTED: Final = "a numeral or a digit from 1 to 7 after the slash"
_USUAL: Final = tuple(
    f"{sign}{roman}{suffix}"
    for romans, suffixes in (
        (ROMANS, ("7", "dim7", "7b9", "7sus4")),
        (("I", "IV"), ("maj7", "6")),
        (tuple(map(str.lower, ROMANS)), ("7", "m7b5", "6")),
    )
    for suffix in suffixes
    for sign in ("", "b", "#")
    for roman in romans
)


@attrs.frozen
class NumeralParts:
    """What a numeral was read as.

    Args:
        degree: The degree of the root.
        quality: The quality.
        target: The degree that it is applied to, if any.
        target_minor: Whether that is written in small letters.
        bass: The degree of the bass, if any.
    """

    degree: Degree
    quality: Quality
    target: Degree | None
    target_minor: bool
    bass: Degree | None


class _Unreadable(Exception):  # noqa: N818 - never leaves this module
    """A place in the text that cannot be read on, and a text near it, if there is one."""

    def __init__(self, position: int, expected: str, near: str | None = None) -> None:
        super().__init__(position, expected)
        self.position = position
        self.expected = expected
        self.near = near


def read_numeral(text: str, *, blues: bool = False) -> NumeralParts:
    """Read a numeral.

    Args:
        text: The numeral, of at most 80 characters.
        blues: Read bare I and IV as dominant sevenths.

    Returns:
        Its parts.

    Raises:
        NotationError: The text is no numeral.

    Example:
        >>> parts = read_numeral("V7/ii")
        >>> parts.degree, parts.quality.name, parts.target
        ('5', '7', '2')
    """
    if len(text) > LONGEST_NUMERAL:
        raise NotationError(
            what="numeral",
            text=text,
            position=LONGEST_NUMERAL,
            expected=f"at most {LONGEST_NUMERAL} characters",
        )
    try:
        return _read(text, blues=blues)
    except _Unreadable as fault:
        raise NotationError(
            what="numeral",
            text=text,
            position=fault.position,
            expected=fault.expected,
            nearest=_nearest(text, fault),
        ) from None


def _read(text: str, *, blues: bool) -> NumeralParts:
    head = _HEAD.match(text)
    if head is None:
        raise _Unreadable(_head_fault(text), _HEAD_EXPECTED)
    if head[1] and head[2]:
        raise _Unreadable(head.start(2), "V after sub")
    start, end = head.end(), len(text)
    bass = _BASS.search(text, start)
    if bass is not None:
        end = bass.start()
    target = _TARGET.search(text[:end], start)
    if target is not None:
        end = target.start()
    degree = _degree(head[2], head[3])
    quality = _quality(text, start, end, degree, small=head[3].islower(), blues=blues)
    if head[1]:
        if not {"3", "b7"} <= set(quality.degrees):
            raise _Unreadable(start, "a dominant, such as subV7")
        degree = Degree("b2")
    return NumeralParts(
        degree=degree,
        quality=quality,
        target=None if target is None else _degree(target[1], target[2]),
        target_minor=target is not None and target[2].islower(),
        bass=None if bass is None else Degree(_SIGNS.get(bass[1], bass[1] or "") + bass[2]),
    )


def _degree(sign: str | None, roman: str) -> Degree:
    return Degree(f"{_SIGNS.get(sign or '', sign or '')}{ROMANS.index(roman.upper()) + 1}")


def _quality(
    text: str, start: int, end: int, degree: Degree, *, small: bool, blues: bool
) -> Quality:
    suffix = text[start:end]
    if not suffix:
        if small:
            return QUALITIES["m7"]
        major = degree in _BARE_MAJOR and not (blues and degree in _BLUES)
        return QUALITIES["maj7" if major else "7"]
    plain = _suffix(text, start, end)
    if not small or "b3" in plain.degrees:
        return plain
    try:
        minor = Chord.parse(f"{_ROOT}m{suffix}").quality
    except ChordSymbolError:
        minor = None
    if minor is not None and "b3" in minor.degrees:
        return minor
    if "3" in plain.degrees:
        raise _Unreadable(start, "a suffix that a minor chord can have")
    # Suspended, or without a third: neither major nor minor, however it is written.
    return plain


def _suffix(text: str, start: int, end: int) -> Quality:
    suffix = text[start:end]
    slash = text.find("/", start, end)
    try:
        chord = Chord.parse(_ROOT + suffix)
    except ChordSymbolError as error:
        place = start + max(error.position - len(_ROOT), 0)
        if slash >= 0 and place > slash:
            raise _Unreadable(_slash_fault(text, slash), _SLASH_EXPECTED) from None
        mended = error.nearest.replace("♮", "")
        near = text[:start] + mended[1:] + text[end:] if mended.startswith("C") else None
        expected = error.expected.replace("a bass", "a slash")
        raise _Unreadable(place, expected, near) from None
    if chord.bass is not None:
        raise _Unreadable(text.rfind("/", start, end) + 1, _SLASH_EXPECTED)
    return chord.quality


def _slash_fault(text: str, slash: int) -> int:
    """The first place after a slash at which a text stops looking like a numeral."""
    good = _APPLIED.match(text, slash)
    return min(slash + 1, len(text)) if good is None else min(good.end() + 1, len(text))


def _head_fault(text: str) -> int:
    """The first place at which a text stops looking like a numeral."""
    if text.startswith("sub"):
        return len("sub")
    prefix = re.match("[b#♭♯]?", text)
    place = prefix.end() if prefix else 0
    longest = re.match(_ROMAN, text[place:])
    return place + (longest.end() if longest else 0)


def _nearest(text: str, fault: _Unreadable) -> str | None:
    for candidate in _candidates(text, fault):
        try:
            _read(candidate, blues=False)
        except _Unreadable:
            continue
        if candidate != text:
            return candidate
    return None


def _candidates(text: str, fault: _Unreadable) -> Iterator[str]:
    if fault.near is not None and fault.near != text:
        yield fault.near
    yield text[: fault.position] + text[fault.position + 1 :]
    yield text[: fault.position].removesuffix("/")
    letters = re.match(r"[b#♭♯]?([IViv]+)", text)
    if letters is not None:
        start, end = letters.span(1)
        for roman in (letters[1].upper(), letters[1].lower()):
            yield text[:start] + roman + text[end:]
    yield from nearest_names(text, _USUAL)
