"""The first track of a MIDI file: tempo, metre, key, title and markers, and no notes."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING, Any, Final

from gripwright.errors import ConditionError
from gripwright_rhythm.export.midi_ticks import TickGrid

if TYPE_CHECKING:
    from gripwright import Chorus, Score, ScoreBar
    from gripwright.meter import Meter

SLOWEST_QUARTER: Final = 2**24 - 1
"""Microseconds in the slowest quarter: the tempo event has 24 bits."""

_CLOCKS_IN_QUARTER: Final = 24
_MICROSECONDS_IN_MINUTE: Final = 60_000_000
_FINEST_PART: Final = 1024
_MOST_PARTS: Final = 255

Meta = tuple[int, str, dict[str, Any]]
"""Tick, kind of meta event, and its values, in the words of mido."""


def conductor(score: Score, grid: TickGrid) -> list[Meta]:
    """Everything that a sequencer should know besides the notes, by tick.

    The title is the name of the track. A metre written in groups stands as their sum, the groups
    beside it as a text. A shorter bar, such as a pickup, has a time signature of its own, in
    units of its metre or in halves of them. Markers stand at the count-in, at every chorus, at
    every section and at the ending bar.

    Args:
        score: The score.
        grid: Its ticks.

    Raises:
        ConditionError: A tempo, or the length of a bar, that MIDI cannot say.
    """
    found: list[Meta] = []
    if score.title is not None:
        found.append((0, "track_name", {"name": score.title}))
    words = (
        ("rhythm: ", (score.rhythm,)),
        ("click: ", (score.click,)),
        ("", score.notes),
    )
    found += [
        (0, "text", {"text": f"{label}{text}"}) for label, texts in words for text in texts if text
    ]
    held: dict[str, dict[str, Any]] = {}
    before: tuple[Chorus, Meter, Fraction] | None = None
    for bar in score.bars:
        tick = grid.tick(bar.onset)
        chorus = score.chorus_at(bar.onset)
        state = (chorus, bar.meter, bar.length)
        if before is None or chorus is not before[0] or state[1:] != before[1:]:
            found += [(tick, *change) for change in _changes(chorus, bar, held)]
            before = state
        found += [(tick, "marker", {"text": text}) for text in _markers(chorus, bar)]
    return found


def _changes(
    chorus: Chorus, bar: ScoreBar, held: dict[str, dict[str, Any]]
) -> Iterator[tuple[str, dict[str, Any]]]:
    """What holds from a bar on, and did not hold before it.

    Args:
        chorus: The chorus of the bar.
        bar: The bar.
        held: What holds, by kind; brought up to date.
    """
    holding: dict[str, dict[str, Any]] = {
        "set_tempo": {"tempo": _tempo(chorus.tempo_bpm * bar.meter.pulse, bar)},
        "time_signature": _signature(bar),
        "text": {"text": f"metre {bar.meter}"} if bar.meter.groups else {},
    }
    if chorus.key is not None:
        holding["key_signature"] = {"key": str(chorus.key)}
    for kind, values in holding.items():
        if values != held.get(kind, {}):
            held[kind] = values
            if values:
                yield kind, values


def _markers(chorus: Chorus, bar: ScoreBar) -> Iterator[str]:
    if bar.onset == chorus.onset:
        yield f"chorus {chorus.number}" if chorus.number > 0 else "count-in"
    if bar.ending:
        yield "ending"
    if bar.section is not None:
        yield bar.section


def _tempo(quarters_a_minute: Fraction, bar: ScoreBar) -> int:
    """Microseconds in a quarter, rounded once."""
    tempo = floor(_MICROSECONDS_IN_MINUTE / quarters_a_minute + Fraction(1, 2))
    if not 1 <= tempo <= SLOWEST_QUARTER:
        slowest = _MICROSECONDS_IN_MINUTE / SLOWEST_QUARTER
        raise ConditionError(
            name=f"tempo in bar {bar.number}",
            value=f"{float(quarters_a_minute):g} quarters a minute",
            expected=f"{slowest:.3f} to {_MICROSECONDS_IN_MINUTE:,}, the tempos of a MIDI file",
        )
    return tempo


def _signature(bar: ScoreBar) -> dict[str, int]:
    meter = bar.meter
    parts, unit = bar.length * meter.unit / 4, meter.unit
    while parts.denominator > 1 and unit < _FINEST_PART:
        parts, unit = parts * 2, unit * 2
    if parts.denominator > 1 or parts > _MOST_PARTS:
        raise ConditionError(
            name=f"length of bar {bar.number}",
            value=f"{bar.length} quarters",
            expected=f"1 to {_MOST_PARTS} parts of a whole note, each half of another, as the"
            " time signatures of a MIDI file say it",
        )
    return {
        "numerator": int(parts),
        "denominator": unit,
        "clocks_per_click": int(meter.pulse * _CLOCKS_IN_QUARTER),
        "notated_32nd_notes_per_beat": 8,
    }
