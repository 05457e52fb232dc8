"""The reader of chord symbols.

A symbol is a root, a suffix of the quality table, modifiers, and a bass after a slash. The
grammar is data, `symbol.toml`; the suffixes are the names and aliases of `qualities.toml`. This
module normalises a text with the one, looks it up in the other, and says where it fails.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator, Mapping
from typing import Final

import attrs

from gripwright.errors import ChordSymbolError, UnknownNameError
from gripwright.named import nearest_names
from gripwright.theory.canonical import canonical_quality
from gripwright.theory.grammar import grammar
from gripwright.theory.modifier import Modifier, tones_of
from gripwright.theory.nearest import nearest_symbol
from gripwright.theory.note import Note
from gripwright.theory.quality import QUALITIES, Quality

LONGEST_SYMBOL: Final = 64
"""Characters of the longest chord symbol that is read or written."""

MOST_ACCIDENTALS: Final = 3
"""Flats or sharps that a root or bass carries at most."""

_MODIFIER_EXPECTED: Final = "a quality, an alteration, an added tone, a bass or the end"
_ROOT: Final = re.compile(r"([A-H])(♮|b+|#+)?")
_BASS: Final = re.compile(r"/([A-H])(♮|b+|#+)?\Z")
_INNER_BASS: Final = re.compile(r"/[A-H](♮|b+|#+)?")
_KEPT_SUFFIXES: Final = 4096


@attrs.define
class _Unreadable(Exception):  # noqa: N818 - never leaves this module
    """A place in the flat text that cannot be read on."""

    position: int
    expected: str


@attrs.frozen
class Reading:
    """What a chord symbol was read as.

    Args:
        root: The root.
        quality: The quality, canonically named.
        bass: The bass after the slash, if any.
        warnings: What else the text could have meant, one sentence each.
    """

    root: Note
    quality: Quality
    bass: Note | None
    warnings: tuple[str, ...]


@attrs.frozen
class _Suffix:
    quality: Quality
    warnings: tuple[str, ...]


class SymbolReader:
    """Reads chord symbols by a grammar and a set of suffixes.

    Args:
        aliases: Further suffixes, each with the name of the quality that it means.

    Raises:
        UnknownNameError: An alias means a quality that the table does not hold.

    Example:
        >>> reader = SymbolReader({"7hot": "7#9"})
        >>> reader.read("E7hot").quality.name
        '7#9'
    """

    def __init__(self, aliases: Mapping[str, str] | None = None) -> None:
        self._grammar = grammar()
        self._names: dict[str, str] = {}
        for quality in QUALITIES.values():
            for alias in (quality.name, *quality.aliases):
                self._names.setdefault(self._grammar.normalise(alias)[0], quality.name)
        for alias, name in (aliases or {}).items():
            if name not in QUALITIES:
                raise UnknownNameError(
                    kind="chord quality", name=name, nearest=nearest_names(name, QUALITIES)
                )
            self._names[self._grammar.normalise(self._grammar.flatten(alias)[0])[0]] = name
        self._longest = max(map(len, self._names))
        self._kept: dict[tuple[str, bool, bool], _Suffix] = {}

    @property
    def suffixes(self) -> tuple[str, ...]:
        """Every suffix known, normalised."""
        return tuple(self._names)

    def read(
        self,
        text: str,
        *,
        literal: bool = False,
        german: bool = False,
        dim_is_dim7: bool = False,
    ) -> Reading:
        """Read a chord symbol.

        Args:
            text: The symbol, of at most 64 characters.
            literal: Stack the thirds below 11 and 13 literally.
            german: Read H as B natural and B as B flat.
            dim_is_dim7: Read ``dim`` as a diminished seventh chord, as many charts mean it.

        Returns:
            Root, quality and bass, with warnings where the text could mean something else.

        Raises:
            ChordSymbolError: The text is no chord symbol, or longer than 64 characters.

        Example:
            >>> SymbolReader().read("F#m7b5/C").bass
            Note(letter='C', alteration=0)
        """
        if len(text) > LONGEST_SYMBOL:
            raise ChordSymbolError(
                text=text,
                position=LONGEST_SYMBOL,
                expected=f"at most {LONGEST_SYMBOL} characters",
                nearest=self._nearest(text[:LONGEST_SYMBOL], LONGEST_SYMBOL, german=german),
            )
        flat, places = self._grammar.flatten(text)
        try:
            return self._read_flat(flat, literal=literal, german=german, dim_is_dim7=dim_is_dim7)
        except _Unreadable as fault:
            position = places[fault.position] if fault.position < len(places) else len(text)
            raise ChordSymbolError(
                text=text,
                position=position,
                expected=fault.expected,
                nearest=self._nearest(text, position, german=german),
            ) from None

    def can_read(self, text: str, *, german: bool = False) -> bool:
        """Whether a text is a chord symbol.

        Example:
            >>> SymbolReader().can_read("Cmaj77")
            False
        """
        try:
            self._read_flat(self._grammar.flatten(text)[0], german=german)
        except _Unreadable:
            return False
        return len(text) <= LONGEST_SYMBOL

    def _nearest(self, text: str, position: int, *, german: bool) -> str:
        return nearest_symbol(
            text,
            position,
            suffixes=self.suffixes,
            readable=functools.partial(self.can_read, german=german),
        )

    def _read_flat(
        self, flat: str, *, german: bool, literal: bool = False, dim_is_dim7: bool = False
    ) -> Reading:
        match = _ROOT.match(flat)
        if match is None:
            raise _Unreadable(0, "a root from A to G")
        root, warning = _note(match, german=german)
        end = match.end()
        bass_match = _BASS.search(flat)
        bass = None
        if bass_match is not None:
            bass, bass_warning = _note(bass_match, german=german)
            warning = tuple(dict.fromkeys((*warning, *bass_warning)))
        suffix = flat[end : bass_match.start() if bass_match else len(flat)]
        key = suffix, literal, dim_is_dim7
        read = self._kept.get(key)
        if read is None:
            try:
                read = self._read_suffix(suffix, literal=literal, dim_is_dim7=dim_is_dim7)
            except _Unreadable as fault:
                raise _Unreadable(end + fault.position, fault.expected) from None
            if len(self._kept) >= _KEPT_SUFFIXES:
                self._kept.clear()
            self._kept[key] = read
        warnings = warning
        if match[2] is not None or read.warnings:
            warnings += self._grammar.root_warnings(flat)
            warnings += tuple(text.format(root=root) for text in read.warnings)
        return Reading(root, read.quality, bass, warnings)

    def _read_suffix(self, suffix: str, *, literal: bool, dim_is_dim7: bool) -> _Suffix:
        normal, places = self._grammar.normalise(suffix)
        faults: list[_Unreadable] = []
        for size in range(min(self._longest, len(normal)), -1, -1):
            name = self._names.get(normal[:size])
            if name is None:
                continue
            if literal:
                name = self._grammar.literal.get(name, name)
            if dim_is_dim7:
                name = self._grammar.dim_is_dim7.get(name, name)
            try:
                modifiers = tuple(self._modifiers(normal, size))
                return self._settle(name, modifiers, suffix, len(normal))
            except _Unreadable as fault:
                faults.append(fault)
        # The empty suffix is known, so that each text is read at least once.
        farthest = max(faults, key=lambda fault: fault.position)
        raise _Unreadable(
            places[farthest.position] if farthest.position < len(places) else len(suffix),
            farthest.expected,
        )

    def _settle(self, name: str, modifiers: tuple[Modifier, ...], suffix: str, end: int) -> _Suffix:
        base = QUALITIES[name]
        if modifiers:
            degrees, essential = tones_of(base, modifiers)
            if not degrees:
                raise _Unreadable(end, "a tone that is left to sound")
            try:
                quality = canonical_quality(degrees, essential)
            except LookupError:
                raise _Unreadable(end, "modifiers that do not undo each other") from None
        else:
            quality = base
        warnings = list(self._grammar.warnings(suffix))
        put_in = {m.tone for m in modifiers if m.kind == "alter"}
        own = tones_of(base, [m for m in modifiers if m.kind in {"suspend", "alter"}])[0]
        absent = {m.tone.number for m in modifiers if m.kind == "omit"} - {
            tone.number for tone in own if tone not in put_in
        }
        warnings += [f"there is no {number} to leave out" for number in sorted(absent)]
        return _Suffix(quality, tuple(warnings))

    def _modifiers(self, normal: str, start: int) -> Iterator[Modifier]:
        """Modifiers from a place to the end; brackets do not nest, and separate like commas."""
        place, opened, needs = start, False, False
        while place < len(normal):
            sign = normal[place]
            match = self._grammar.modifier.match(normal, place)
            if match is not None:
                yield from self._grammar.modifiers(match)
                place, needs = match.end(), False
                continue
            if needs or sign not in (",/)" if opened else ",/("):
                raise _Unreadable(place, _expected_after(normal[:place], opened=opened))
            bass = _INNER_BASS.match(normal, place)
            if bass is not None:
                raise _Unreadable(bass.end(), "the end, after a bass")
            opened = (opened or sign == "(") and sign != ")"
            needs = sign != ")"
            place += 1
        if needs or opened:
            raise _Unreadable(place, _expected_after(normal, opened=opened))


def _expected_after(read: str, *, opened: bool) -> str:
    if read.endswith(("(", ",")):
        return "an alteration or an added tone"
    if read.endswith("/"):
        return "a bass note or an added tone"
    if opened:
        return "an alteration, an added tone or a closing bracket"
    return _MODIFIER_EXPECTED


def _note(match: re.Match[str], *, german: bool) -> tuple[Note, tuple[str, ...]]:
    letter, accidentals = match[1], match[2] or ""
    if len(accidentals) > MOST_ACCIDENTALS:
        raise _Unreadable(
            match.start(2) + MOST_ACCIDENTALS, f"at most {MOST_ACCIDENTALS} flats or sharps"
        )
    shift = accidentals.count("#") - accidentals.count("b")
    if not german:
        if letter == "H":
            raise _Unreadable(match.start(1), "a letter from A to G, or the German option for H")
        return Note(letter, shift), ()
    if letter == "H":
        return Note("B", shift), ()
    if letter == "B" and match[2] is None:
        return Note("B", -1), ()
    if letter == "B":
        return Note("B", shift), ("with an accidental, B is read as in English, not as German B",)
    return Note(letter, shift), ()


@functools.cache
def default_reader() -> SymbolReader:
    """The reader of the library's own grammar and suffixes."""
    return SymbolReader()
