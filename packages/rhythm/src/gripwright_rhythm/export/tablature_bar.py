"""Bars as tablature shows them: what is gripped where, as written, and how long it sounds."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, TypeVar

import attrs

from gripwright.meter import Meter
from gripwright.meter.attack import Stroke

if TYPE_CHECKING:
    from gripwright import ChordEvent, NoteEvent, Score, ScoreBar

T = TypeVar("T")


@attrs.frozen
class TabChord:
    """A chord, as far as it lies in a bar.

    Args:
        onset: Where its part in the bar starts, in quarters from the start of the bar.
        end: Where that part ends.
        starts: Whether it is attacked there; else it sounds on from the bar before.
        symbol: The chord.
        frets: What each string does, from the bass side.
        ends: Where each string ends: before the others where it is gripped anew.
        stroke: What the right hand does.
        accent: Whether it is louder on purpose.
    """

    onset: Fraction
    end: Fraction
    starts: bool
    symbol: str
    frets: tuple[int, ...]
    ends: tuple[Fraction, ...]
    stroke: Stroke
    accent: bool


@attrs.frozen
class TabNote:
    """A bass note or a root, as far as it lies in a bar.

    Args:
        onset: Where its part in the bar starts, in quarters from the start of the bar.
        end: Where that part ends.
        starts: Whether it is attacked there.
        name: The note.
    """

    onset: Fraction
    end: Fraction
    starts: bool
    name: str


@attrs.frozen
class TabBar:
    """A bar and all that stands in it; two are equal where they are played alike.

    Args:
        number: Its number; tells no bars apart.
        loudness: The dynamics of its chords together; tells no bars apart.
        meter: Its metre.
        length: Quarters that it lasts.
        lead_in: Quarters of its metre that lie before its start.
        section: The name of the section that starts here.
        ending: Whether it is the bar after the form.
        chords: The chords, by onset.
        symbols: What stands over the strings, with its place.
        clicks: Where it clicks.
        bass: The bass notes, by onset.
        root: The roots, by onset.
    """

    number: int = attrs.field(eq=False)
    loudness: int = attrs.field(eq=False)
    meter: Meter
    length: Fraction
    lead_in: Fraction
    section: str | None
    ending: bool
    chords: tuple[TabChord, ...]
    symbols: tuple[tuple[Fraction, str], ...]
    clicks: tuple[Fraction, ...]
    bass: tuple[TabNote, ...]
    root: tuple[TabNote, ...]

    @property
    def beats(self) -> Iterator[tuple[Fraction, int]]:
        """The beats that fall in it: quarters from its start, and the beat's number."""
        pulse = self.meter.pulse
        beat = -(-self.lead_in // pulse)
        while beat * pulse - self.lead_in < self.length:
            yield beat * pulse - self.lead_in, int(beat) + 1
            beat += 1


def tab_bars(score: Score) -> list[TabBar]:
    """Every bar of a score, with swing taken out of its times.

    Args:
        score: The score.
    """
    onsets = [bar.onset for bar in score.bars]
    chords = _by_bar(_chords(score), score.bars, onsets)
    symbols = _by_bar(_symbols(score), score.bars, onsets)
    clicks = ((score.written(one.onset),) * 2 + (None,) for one in score.clicks)
    clicked = _by_bar(clicks, score.bars, onsets)
    bass, root = (
        _by_bar(_notes(score, events), score.bars, onsets) for events in (score.bass, score.root)
    )
    return [
        TabBar(
            number=bar.number,
            loudness=sum(event.dynamic for *_, (event, _) in chords[index]),
            meter=bar.meter,
            length=bar.length,
            lead_in=bar.lead_in,
            section=bar.section,
            ending=bar.ending,
            chords=tuple(_chord(bar, *one) for one in chords[index]),
            symbols=tuple((onset - bar.onset, text) for onset, _, text in symbols[index]),
            clicks=tuple(onset - bar.onset for onset, *_ in clicked[index]),
            bass=tuple(_note(bar, *one) for one in bass[index]),
            root=tuple(_note(bar, *one) for one in root[index]),
        )
        for index, bar in enumerate(score.bars)
    ]


def _by_bar(
    timed: Iterable[tuple[Fraction, Fraction, T]],
    bars: Sequence[ScoreBar],
    onsets: list[Fraction],
) -> list[list[tuple[Fraction, Fraction, T]]]:
    """What lies in each bar; what goes on into the next ones is in those too."""
    found: list[list[tuple[Fraction, Fraction, T]]] = [[] for _ in bars]
    for onset, end, value in timed:
        index = bisect_right(onsets, onset) - 1
        found[index].append((onset, end, value))
        while index + 1 < len(bars) and onsets[index + 1] < end:
            index += 1
            found[index].append((onset, end, value))
    return found


def _chords(
    score: Score,
) -> Iterator[tuple[Fraction, Fraction, tuple[ChordEvent, tuple[Fraction, ...]]]]:
    """The chords with the end of each string, as written."""
    following = [score.end] * len(score.instrument.strings)
    found = []
    for event in reversed(score.events):
        onset, end = score.written(event.onset), score.written(event.end)
        found.append((onset, end, (event, tuple(min(end, after) for after in following))))
        for string, fret in enumerate(event.voicing.frets):
            if fret >= 0:
                following[string] = onset
    return reversed(found)


def _chord(
    bar: ScoreBar,
    onset: Fraction,
    end: Fraction,
    value: tuple[ChordEvent, tuple[Fraction, ...]],
) -> TabChord:
    event, ends = value
    start = max(onset, bar.onset)
    return TabChord(
        onset=start - bar.onset,
        end=min(end, bar.end) - bar.onset,
        starts=onset >= bar.onset,
        symbol=str(event.chord),
        frets=event.voicing.frets,
        ends=tuple(max(min(one, bar.end), start) - bar.onset for one in ends),
        stroke=event.stroke,
        accent=event.accent,
    )


def _notes(score: Score, events: Iterable[NoteEvent]) -> Iterator[tuple[Fraction, Fraction, str]]:
    for event in events:
        yield score.written(event.onset), score.written(event.end), str(event.pitch)


def _note(bar: ScoreBar, onset: Fraction, end: Fraction, name: str) -> TabNote:
    start, until = max(onset, bar.onset), min(end, bar.end)
    return TabNote(start - bar.onset, until - bar.onset, onset >= bar.onset, name)


def _symbols(score: Score) -> Iterator[tuple[Fraction, Fraction, str]]:
    """What stands over the strings, by place.

    The chord over each attack, with its sign where it anticipates or leads on; and the chart's
    own over what nobody plays.
    """
    found = [(score.written(event.onset), 1, _symbol(event)) for event in score.events]
    onsets = [change.onset for change in score.changes]
    heard = set()
    for event in score.events:
        place = max(bisect_right(onsets, event.onset) - 1, 0)
        while place < len(onsets) and onsets[place] < event.end:
            if not event.approach and score.changes[place].chord == event.chord:
                heard.add(place)
            place += 1
    for place, change in enumerate(score.changes):
        if place not in heard:
            text = "N.C." if change.chord is None else str(change.chord)
            found.append((change.onset, 0, text))
    for onset, _, text in sorted(found):
        yield onset, onset, text


def _symbol(event: ChordEvent) -> str:
    symbol = str(event.chord)
    if event.approach:
        return f"({symbol})"
    return f">{symbol}" if event.push else symbol
