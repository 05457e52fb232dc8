"""The text of one bar: chords in equal shares, in beats or at exact places, and hits."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import Any, Final, Generic, TypeVar, cast

from gripwright.errors import NotationError
from gripwright.meter import Hit, Meter
from gripwright.meter.hit import FINEST, LONGEST
from gripwright.named import nearest_names
from gripwright.tune.bar import Bar, Slot
from gripwright.tune.text_numbers import NUMBER, number_text, read_number, short_duration
from gripwright.tune.text_tokens import Token

S = TypeVar("S")

PlainBar = tuple[int, str, Bar[S]]
"""A bar of nothing but symbols, after its column and its text."""

Say = Callable[..., None]
"""Takes a fault: column, text, expected and, by name, the nearest text."""

NO_CHORD: Final = "N.C."
MOST_CHORDS: Final = 64
"""Chords that share a bar at most."""


# A word that is a symbol and nothing else, but for those words of ours that look like one.
_PLAIN_LINE: Final = re.compile(r"[^:;\[\]{}<>@.]*")
_PLAIN: Final = re.compile(r"(?![xX][0-9])[A-Za-z#][^\s|:;\[\]{}<>@.%]*")
NOT_PLAIN: Final = frozenset({"coda", "dc", "ds", "fine", "nc", "open", "segno", "to"})

_HIT: Final = re.compile(rf"({NUMBER})(?:(')|:({NUMBER}))?(>)?")
# What is no chord and has no digit may be a word misspelt.
_WORD: Final = re.compile(r"[A-Za-z.]{3,}")
_WORDS: Final = {word.lower(): word for word in ("Segno", "Coda", "Fine", "D.C.", "D.S.", "open")}


class SlotReader(Generic[S]):
    """Reads the chords of bars.

    Args:
        read_symbol: Reads one symbol; raises `NotationError` where it cannot.
    """

    def __init__(self, read_symbol: Callable[[str], S]) -> None:
        self._read_symbol = read_symbol
        self._kept: dict[str, S] = {}
        self._meter: Meter | None = None
        self._shares: dict[int, tuple[Fraction, ...]] = {}
        self._bars: dict[str, Bar[S]] = {}
        self._lines: dict[str, tuple[PlainBar[S] | None, ...]] = {}

    def read_plain(self, line: str, meter: Meter) -> tuple[PlainBar[S], ...]:
        """Read a line of bars that hold nothing but symbols or ``%``, quickly.

        Args:
            line: The line.
            meter: The metre of its bars, which are all as long.

        Returns:
            The bars, each with its column and text; none where there is anything else in the
            line, readable or not.
        """
        if meter is not self._meter:
            self._meter, self._shares, self._bars, self._lines = meter, {}, {}, {}
        bars = self._lines.get(line)
        if bars is None:
            bars = tuple(self._plain_bars(line, meter)) if _PLAIN_LINE.fullmatch(line) else ()
            if None in bars:
                bars = ()
            self._lines[line] = bars
        return cast("tuple[PlainBar[S], ...]", bars)

    def _plain_bars(self, line: str, meter: Meter) -> Iterator[PlainBar[S] | None]:
        cells = line.split("|")
        column = 1
        for number, cell in enumerate(cells):
            text = cell.strip()
            bar = self._bars.get(text) or self._plain_bar(text, meter)
            if bar is not None:
                self._bars[text] = bar
                yield column + cell.index(text), text, bar
            elif text or (cell and 0 < number < len(cells) - 1):
                yield None
            column += len(cell) + 1

    def _plain_bar(self, text: str, meter: Meter) -> Bar[S] | None:
        if text == "%":
            return Bar(same=True)
        words = text.split()
        symbols = []
        for word in words:
            if _PLAIN.fullmatch(word) is None or word.lower() in NOT_PLAIN:
                return None
            try:
                symbols.append(self._symbol(word))
            except NotationError:
                return None
        if not 0 < len(words) <= MOST_CHORDS:
            return None
        return Bar(tuple(map(Slot, symbols, self._places(meter.length, len(words)))))

    def _places(self, length: Fraction, count: int) -> tuple[Fraction, ...]:
        places = self._shares.get(count)
        if places is None:
            places = tuple(length * number / count for number in range(count))
            self._shares[count] = places
        return places

    def _symbol(self, text: str) -> S:
        symbol = self._kept.get(text)
        if symbol is None:
            symbol = self._kept[text] = self._read_symbol(text)
        return symbol

    def read(
        self, tokens: Sequence[Token], meter: Meter, lead_in: Fraction, say: Say
    ) -> tuple[Slot[S], ...]:
        """Read the chords of a bar.

        Args:
            tokens: Its symbols, N.C., held chords and beats.
            meter: Its metre.
            lead_in: Quarters that it lacks at its start.
            say: Takes what is wrong.

        Returns:
            The chords that could be read, at their places.
        """
        length = meter.length - lead_in
        if len(tokens) > MOST_CHORDS:
            say(tokens[MOST_CHORDS], f"at most {MOST_CHORDS} chords and beats in a bar")
            return ()
        if any(token.kind == "beats" for token in tokens):
            return tuple(self._in_beats(tokens, meter.pulse, length, say))
        if any("@" in token.text for token in tokens):
            return tuple(self._at_places(tokens, meter, lead_in, say))
        share = length / len(tokens) if tokens else length
        return tuple(
            slot
            for number, token in enumerate(tokens)
            for slot in self._slot(token, token.text, share * number, say)
        )

    def _in_beats(
        self, tokens: Sequence[Token], pulse: Fraction, length: Fraction, say: Say
    ) -> Iterator[Slot[S]]:
        beat = 0
        for token in tokens:
            if token.kind == "beats":
                beat += len(token.text)
                continue
            if "@" in token.text:
                say(token, "'/' for beats or '@' for places in one bar, not both")
            onset = min(pulse * beat, length)
            yield from self._slot(token, token.text.partition("@")[0], onset, say)
            beat += 1
        if pulse * beat != length:
            text = " ".join(token.text for token in tokens)
            lacking = length / pulse - beat
            full = lacking > 0 and lacking.denominator == 1
            say(
                tokens[0],
                f"{number_text(length / pulse)} beats, not {beat}",
                text=text,
                nearest=text + " /" * int(lacking) if full else None,
            )

    def _at_places(
        self, tokens: Sequence[Token], meter: Meter, lead_in: Fraction, say: Say
    ) -> Iterator[Slot[S]]:
        before = Fraction(-1)
        for number, token in enumerate(tokens):
            text, _, place = _split(token)
            if place is None and number == 0:
                onset = Fraction(0)
            elif place is None:
                say(token, "'@' and its place after every chord but the first", nearest=None)
                continue
            else:
                found = read_place(place, meter, lead_in)
                column = token.column + token.text.rindex("@") + 1
                if found is None or found <= before:
                    expected = place_expected(meter, lead_in, rising=found is not None)
                    say(token, expected, text=place, column=column)
                    continue
                onset = found
            before = onset
            yield from self._slot(token, text, onset, say)

    def _slot(self, token: Token, text: str, onset: Fraction, say: Say) -> Iterator[Slot[S]]:
        held = token.kind == "held"
        if token.kind == "none":
            yield Slot(None, onset)
            return
        name, start = (token.match["chord"], token.column + 1) if held else (text, token.column)
        try:
            yield Slot(self._symbol(name), onset, held)
        except NotationError as error:
            near = nearest_names(name, _WORDS) if _WORD.fullmatch(name) else ()
            say(
                token,
                error.expected,
                text=name,
                column=start + (0 if near else error.position),
                nearest=_WORDS[near[0]] if near else error.nearest,
            )


def _split(token: Token) -> tuple[str, str, str | None]:
    """The text of a chord without its place, the sign between, and the place."""
    text, sign, place = token.text.rpartition("@")
    return (text, sign, place) if sign else (place, "", None)


def read_place(text: str, meter: Meter, lead_in: Fraction) -> Fraction | None:
    """Read a place of a bar, counted in beats from 1.

    Args:
        text: The place as written.
        meter: The metre of the bar.
        lead_in: Quarters that it lacks at its start.

    Returns:
        Quarters from the start of the bar; None where no place of it is written.
    """
    beat = read_number(text)
    if beat is None:
        return None
    onset = meter.onset_of(beat)
    fits = lead_in <= onset < meter.length and (onset - lead_in).denominator <= FINEST
    return onset - lead_in if fits else None


def place_expected(meter: Meter, lead_in: Fraction, *, rising: bool = False) -> str:
    """Say which places a bar has."""
    if rising:
        return "a place after the one before"
    first = number_text(meter.beat_of(lead_in))
    return f"a place from beat {first} to before {number_text(meter.beat_of(meter.length))}"


def read_hits(token: Token, meter: Meter, lead_in: Fraction, say: Say) -> tuple[Hit, ...]:
    """Read the hits of a bar.

    Args:
        token: The places in braces.
        meter: The metre of the bar.
        lead_in: Quarters that it lacks at its start.
        say: Takes what is wrong.

    Returns:
        The hits that could be read.
    """
    found: list[tuple[Fraction, re.Match[str]]] = []
    for word in re.finditer(r"\S+", token.match["places"]):
        column = token.column + 1 + word.start()
        match = _HIT.fullmatch(word[0])
        if match is None or (match[3] and not _fits(Fraction(match[3]) * meter.pulse)):
            expected = "a place such as 2.5, then ' for short or : and beats, then > for a push"
            say(token, expected, text=word[0], column=column)
            continue
        onset = read_place(match[1], meter, lead_in)
        if onset is None or (found and onset <= found[-1][0]):
            expected = place_expected(meter, lead_in, rising=onset is not None)
            say(token, expected, text=word[0], column=column)
            continue
        found.append((onset, match))
    after = [onset for onset, _ in found[1:]]
    hits = []
    for (onset, match), following in zip(found, [*after, None], strict=False):
        duration = None
        if match[2]:
            until = None if following is None else following + lead_in
            duration = short_duration(onset + lead_in, until, meter)
        elif match[3]:
            duration = Fraction(match[3]) * meter.pulse
        hits.append(Hit(onset, duration, bool(match[4])))
    return tuple(hits)


def _fits(duration: Fraction) -> bool:
    return 0 < duration <= LONGEST and duration.denominator <= FINEST


def slots_text(slots: Sequence[Slot[Any]], meter: Meter, lead_in: Fraction) -> str:
    """Write the chords of a bar: in equal shares, else in beats, else at exact places.

    Args:
        slots: The chords.
        meter: The metre of the bar.
        lead_in: Quarters that it lacks at its start.

    Returns:
        The text between the bar lines.
    """
    length = meter.length - lead_in
    count = len(slots)
    if slots and all(slot.onset * count == length * place for place, slot in enumerate(slots)):
        return " ".join(map(_chord_text, slots))
    beats = length / meter.pulse
    if beats.denominator == 1 and all(
        (slot.onset / meter.pulse).denominator == 1 for slot in slots
    ):
        words = ["/"] * int(beats)
        for slot in slots:
            words[int(slot.onset / meter.pulse)] = _chord_text(slot)
        return " ".join(words)
    return " ".join(
        _chord_text(slot)
        + (f"@{number_text(meter.beat_of(slot.onset + lead_in))}" if slot.onset else "")
        for slot in slots
    )


def _chord_text(slot: Slot[Any]) -> str:
    if slot.symbol is None:
        return NO_CHORD
    return f"<{slot.symbol}>" if slot.held else str(slot.symbol)


def hits_text(hits: Sequence[Hit], meter: Meter, lead_in: Fraction) -> str:
    """Write the hits of a bar in braces; the arguments are those of `slots_text`."""
    after = [hit.onset + lead_in for hit in hits[1:]]
    words = []
    for hit, following in zip(hits, [*after, None], strict=False):
        word = number_text(meter.beat_of(hit.onset + lead_in))
        if hit.duration is not None:
            short = hit.duration == short_duration(hit.onset + lead_in, following, meter)
            word += "'" if short else f":{number_text(hit.duration / meter.pulse)}"
        words.append(word + (">" if hit.push else ""))
    return "{" + " ".join(words) + "}"
