"""The words of a tablature: its heading, its signs, and what each chorus is like."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

import attrs

from gripwright_rhythm.export.tablature_bar import TabBar, tab_bars
from gripwright_rhythm.export.tablature_grid import TabGrid
from gripwright_rhythm.export.tablature_system import (
    ACCENT,
    CLICK,
    MUTED,
    SILENT,
    SOUNDS,
    STROKES,
)

if TYPE_CHECKING:
    from gripwright import Chorus, Instrument, Score

_TWO = 2
_STROKE_WORDS = {"down": "down", "up": "up", "pluck": "plucked"}


@attrs.frozen
class TabPassage:
    """A sentence, and the bars that are drawn under it.

    Args:
        words: The sentence.
        bars: The bars; none where the sentence says it all.
    """

    words: str
    bars: tuple[TabBar, ...] = ()


def heading(score: Score) -> Iterator[str]:
    """The paragraphs above the bars.

    Args:
        score: The score.
    """
    if score.title:
        yield score.title
    first = _first(score)
    parts = [str(score.bar_at(first.onset).meter), f"{_number(first.tempo_bpm)} beats a minute"]
    if first.swing != 1:
        parts.append(f"swing {_number(first.swing)} to 1 (written even)")
    if first.key is not None:
        parts.append(f"key {first.key}")
    yield f"{score.instrument.name}. {', '.join(parts)}."
    if score.rhythm:
        yield f"Rhythm: {score.rhythm}."
    if score.click:
        yield f"Click: {score.click}."


def signs(bars: Sequence[TabBar]) -> str:
    """What the signs mean that the bars use.

    Args:
        bars: The bars that are drawn.
    """
    chords = [chord for bar in bars for chord in bar.chords]
    texts = {text for bar in bars for _, text in bar.symbols}
    found = [f"{SOUNDS} sounds", f"{SILENT} silent"]
    if any(fret < 0 for chord in chords for fret in chord.frets):
        found.append(f"{MUTED} muted")
    strokes = {chord.stroke for chord in chords}
    found += [f"{STROKES[name]} {_STROKE_WORDS[name]}" for name in STROKES if name in strokes]
    if any(chord.accent for chord in chords):
        found.append(f"{ACCENT} accent")
    if any(bar.clicks for bar in bars):
        found.append(f"{CLICK} click")
    if any(text.startswith(">") for text in texts):
        found.append(">C anticipates its chord")
    if any(text.startswith("(") for text in texts):
        found.append("(C) leads to the next chord")
    return "; ".join(found)


def cautions(score: Score, grid: TabGrid) -> Iterator[str]:
    """The paragraphs below the bars.

    Args:
        score: The score.
        grid: The columns.
    """
    yield from score.notes
    yield from _grips_to_place(score)
    yield from _strings(score.instrument)
    if not grid.exact:
        yield f"Drawn to the nearest 1/{grid.per_quarter} of a quarter note."


def _grips_to_place(score: Score) -> Iterator[str]:
    """The grips of the chords that the player places himself, each once."""
    grips = {
        f"{change.chord} {change.voicing.shape}": None
        for change in score.changes
        if change.voicing is not None
    }
    if grips:
        yield f"Grips: {', '.join(grips)}."


def _strings(instrument: Instrument) -> Iterator[str]:
    count = len(instrument.strings)
    for index, string in enumerate(instrument.strings):
        if string.first_fret:
            yield (
                f"String {count - index} starts at fret {string.first_fret}: 0 is its open string,"
                f" {instrument.lowest_press(index)} its lowest press."
            )
    if any(string.doubles for string in instrument.strings):
        yield "Each line is a course; its strings are gripped together."


def passages(score: Score) -> Iterator[TabPassage]:
    """What is drawn, and what is said instead: a chorus like an earlier one is only named.

    Args:
        score: The score.
    """
    bars = tab_bars(score)
    first = _first(score)
    choruses = {one.number: one for one in score.choruses}
    drawn: dict[int, list[TabBar]] = {}
    said: list[tuple[str, int, int, int]] = []
    by_chorus = groupby(zip(score.bars, bars, strict=True), key=lambda one: one[0].chorus)
    for number, pairs in by_chorus:
        own = [tab for _, tab in pairs]
        form = [tab for tab in own if not tab.ending]
        chorus = choruses.get(number, score.choruses[0])
        like = min(drawn, key=lambda other: len(_unlike(form, drawn[other])), default=None)
        different = form if like is None else _unlike(form, drawn[like])
        if number > 0 and like is not None and not different:
            change = _change(chorus, choruses[like], form, drawn[like])
            text = f"as chorus {like}{change}"
            said = [*said, (text, number, _first_bar(form), form[-1].number)]
        else:
            yield from _merged(said)
            said = []
            if number <= 0:
                yield from _count_in(form)
            elif like is None or 2 * len(different) > len(form):
                drawn[number] = form
                words = f"Chorus {number}{_change(chorus, first, form, form)}"
                yield TabPassage(f"{words}:", tuple(form))
            else:
                change = _change(chorus, choruses[like], form, drawn[like])
                words = f"Chorus {number}, {_bars(_first_bar(form), form[-1].number)}"
                yield TabPassage(f"{words}: as chorus {like}{change}, but for this:")
                yield from _runs(form, different)
        ending = [tab for tab in own if tab.ending]
        if ending:
            yield from _merged(said)
            said = []
            yield TabPassage("Ending:", tuple(ending))
    yield from _merged(said)


def _unlike(bars: list[TabBar], others: list[TabBar]) -> list[TabBar]:
    """The bars that are played otherwise; a pickup is played before the first chorus alone."""
    if len(bars) < len(others) and others[0].lead_in:
        others = others[1:]
    if len(bars) != len(others):
        return bars
    return [bar for bar, other in zip(bars, others, strict=True) if bar != other]


def _runs(form: list[TabBar], different: list[TabBar]) -> Iterator[TabPassage]:
    """The different bars, those that follow one another together."""
    wanted = {bar.number for bar in different}
    for keep, run in groupby(form, key=lambda bar: bar.number in wanted):
        if keep:
            bars = tuple(run)
            # The sentence before has named the chorus: the bars carry their numbers.
            yield TabPassage("", bars)


def _merged(said: list[tuple[str, int, int, int]]) -> Iterator[TabPassage]:
    """Sentences about choruses, one for those that follow one another and are alike."""
    for text, run in groupby(said, key=lambda one: one[0]):
        alike = list(run)
        first, last = alike[0], alike[-1]
        between = "and" if len(alike) == _TWO else "to"
        which = f"Chorus {first[1]}"
        if len(alike) > 1:
            which = f"Choruses {first[1]} {between} {last[1]}"
        yield TabPassage(f"{which}, {_bars(first[2], last[3])}: {text}.")


def _count_in(bars: list[TabBar]) -> Iterator[TabPassage]:
    if any(bar.chords or bar.bass or bar.root for bar in bars):
        yield TabPassage("Count-in:", tuple(bars))
        return
    clicks = sum(len(bar.clicks) for bar in bars)
    count = "1 bar" if len(bars) == 1 else f"{len(bars)} bars"
    short = "" if all(bar.length == bar.meter.length for bar in bars) else ", up to the pickup"
    clicking = "1 click" if clicks == 1 else f"{clicks} clicks"
    yield TabPassage(f"Count-in: {count} of {bars[0].meter}{short}, {clicking}.")


def _first(score: Score) -> Chorus:
    """The chorus that the heading describes."""
    return next((one for one in score.choruses if one.number > 0), score.choruses[0])


def _change(chorus: Chorus, other: Chorus, bars: Sequence[TabBar], others: Sequence[TabBar]) -> str:
    """What a chorus has that another has not."""
    found = []
    if chorus.tempo_bpm != other.tempo_bpm:
        found.append(f"at {_number(chorus.tempo_bpm)} beats a minute")
    if chorus.swing != other.swing:
        found.append(f"swing {_number(chorus.swing)} to 1")
    if chorus.key is not None and chorus.key != other.key:
        found.append(f"in {chorus.key}")
    loud = sum(bar.loudness for bar in bars) - sum(bar.loudness for bar in others[-len(bars) :])
    if loud:
        found.append("louder" if loud > 0 else "softer")
    return "".join(f", {words}" for words in found)


def _first_bar(form: list[TabBar]) -> int:
    """The number of the first bar that is counted: a pickup is not."""
    return next((bar.number for bar in form if not bar.lead_in), form[0].number)


def _bars(first: int, last: int) -> str:
    return f"bar {first}" if first == last else f"bars {first} to {last}"


def _number(value: Fraction) -> str:
    return str(value) if value.denominator == 1 else f"{float(value):.4g}"
