"""Tunes and rhythms to draw from: invented chords in many metres, and patterns to go with them."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from hypothesis import strategies as st

from gripwright import Chart, Chord, RhythmPattern
from gripwright.meter import Attack, Hit, Meter
from gripwright.meter.attack import APPROACH_ROLES, Length
from gripwright.tune import Bar, Section, Settings, Slot
from tests.rhythm.drill.scalar_model import TICKS, Tune, TuneBar, TuneHit, ticks

METERS: Final = tuple(map(Meter.parse, ("4/4", "3/4", "2/4", "5/4", "3+4/4", "6/8", "12/8", "2/2")))
ODD: Final = {
    Fraction(1): tuple(map(Meter.parse, ("2/4", "3/4", "4/4", "5/4"))),
    Fraction(3, 2): tuple(map(Meter.parse, ("6/8", "9/8", "12/8"))),
    Fraction(2): tuple(map(Meter.parse, ("2/2", "3/2"))),
}
SYMBOLS: Final = ("Dm7", "G7", "Cmaj7", "Fmaj7", "Bbmaj7", "Am7")

symbols = st.sampled_from((*SYMBOLS, *SYMBOLS, None))


@st.composite
def _bars(draw: st.DrawFn, usual: Meter, *, first: bool, strange: bool) -> TuneBar:
    kinds = ["whole", "whole", "shared", "beats", "on"] + ["odd", "anywhere"] * strange
    kind = draw(st.sampled_from(kinds))
    meter = draw(st.sampled_from(ODD[usual.pulse])) if kind == "odd" else usual
    length, pulse = ticks(meter.length), ticks(meter.pulse)
    if kind == "shared":
        count = draw(st.sampled_from([2, 2, 3, 4]))
        places = [length * number // count for number in range(count)]
    elif kind in {"beats", "on", "anywhere"}:
        step = pulse // 2 if kind == "anywhere" else pulse
        spot = st.integers(0, length // step - 1).map(lambda number: number * step)
        places = sorted(draw(st.sets(spot, min_size=kind != "on", max_size=3)))
    else:
        places = [0]
    if (first or kind != "on") and places[:1] != [0]:
        places = [0, *places]
    chords = []
    for place in places:
        symbol = draw(symbols)
        held = symbol is not None and strange and draw(st.integers(0, 7)) == 0
        chords.append((place, symbol, held))
    hits = None
    if strange and draw(st.integers(0, 4)) == 0:
        spots = st.integers(0, length // (pulse // 2) - 1).map(lambda number: number * pulse // 2)
        lengths = st.none() | st.sampled_from([TICKS // 2, TICKS, 2 * TICKS])
        hits = tuple(
            TuneHit(spot, draw(lengths), draw(st.booleans()))
            for spot in sorted(draw(st.sets(spots, max_size=3)))
        )
    return TuneBar(meter, tuple(chords), hits)


@st.composite
def tunes(draw: st.DrawFn, *, strange: bool = True, most_bars: int = 4) -> Tune:
    """A tune; where not strange, without held chords, hits, pickups and bars of other lengths."""
    meter = draw(st.sampled_from(METERS))
    bars = [draw(_bars(meter, first=True, strange=strange))]
    more = draw(st.integers(0, most_bars - 1))
    bars += [draw(_bars(meter, first=False, strange=strange)) for _ in range(more)]
    if not any(symbol for bar in bars for _, symbol, _ in bar.chords):
        bars.append(TuneBar(meter, ((0, "Cmaj7", False),)))
    if not strange or draw(st.integers(0, 2)):
        return Tune(meter, tuple(bars))
    pickup = ticks(meter.pulse) * draw(st.integers(1, 2 * meter.pulses - 1)) // 2
    led = TuneBar(meter, ((0, draw(symbols), False),))
    return Tune(meter, (led, *bars), pickup)


def chart_of(tune: Tune) -> Chart[Chord]:
    """Return the chart of a tune."""
    bars = []
    for bar in tune.bars:
        slots = [
            Slot(None if symbol is None else Chord.parse(symbol), Fraction(place, TICKS), held)
            for place, symbol, held in bar.chords
        ]
        hits = None
        if bar.hits is not None:
            hits = [
                Hit(
                    Fraction(hit.place, TICKS),
                    None if hit.length is None else Fraction(hit.length, TICKS),
                    hit.push,
                )
                for hit in bar.hits
            ]
        own = None if bar.meter == tune.meter else bar.meter
        bars.append(Bar(slots, hits=hits, meter=own))
    return Chart([Section(bars)], Settings(meter=tune.meter), pickup=Fraction(tune.pickup, TICKS))


@st.composite
def patterns(draw: st.DrawFn, meter: Meter, *, approaches: bool = True) -> RhythmPattern:
    """A pattern in a metre: beats, halves and thirds of them, all lengths and all marks."""
    bars = draw(st.sampled_from([1, 1, 1, 2]))
    parts = draw(st.sampled_from([2, 2, 4, 3]))
    place = st.integers(0, bars * meter.pulses * parts - 1)
    onsets = [
        meter.pulse * number / parts
        for number in sorted(draw(st.sets(place, min_size=1, max_size=5)))
    ]
    length = bars * meter.length
    attacks = []
    for number, onset in enumerate(onsets):
        room = (onsets[number + 1] if number + 1 < len(onsets) else length + onsets[0]) - onset
        lengths: st.SearchStrategy[Length] = st.sampled_from(
            ["long", "long", "short", min(room, meter.pulse / 2), min(room, meter.pulse * 2)]
        )
        last = onset % meter.length >= meter.length - 2 * meter.pulse and onset % meter.pulse == 0
        role = None
        if approaches and last and draw(st.integers(0, 3)) == 0:
            role = draw(st.sampled_from(APPROACH_ROLES))
        push = role is None and onset % meter.pulse > 0 and draw(st.booleans())
        ring = role is None and draw(st.integers(0, 5)) == 0
        attacks.append(
            Attack(onset, draw(lengths), push, role, ring, accent=draw(st.integers(0, 5)) == 0)
        )
    return RhythmPattern("drawn", meter, attacks, bars)


@st.composite
def tunes_and_patterns(
    draw: st.DrawFn, *, strange: bool = True, approaches: bool = True
) -> tuple[Tune, RhythmPattern]:
    """A tune with a pattern in its metre."""
    tune = draw(tunes(strange=strange))
    return tune, draw(patterns(tune.meter, approaches=approaches))
