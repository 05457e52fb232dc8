"""Laws of every drill, over random tunes in many metres, random rhythms and clicks."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from typing import Any

import attrs
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from gripwright import ChordEvent, ClickEvent, NoteEvent, RhythmPattern, Score
from gripwright.meter import Attack, Meter
from gripwright.score.document import score_document
from gripwright.score.document_reader import read_score
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill import make_drill
from tests.rhythm.drill.lines import drill, line_of
from tests.rhythm.drill.scalar_model import Tune, TuneBar, ticks
from tests.rhythm.drill.tunes import METERS, chart_of, tunes, tunes_and_patterns

CLICKS = tuple(
    map(Click.parse, ("all", "off", "1", "1.5", "every-other", "1-on-2-off", "after-count-in"))
)

few = settings(max_examples=max(settings().max_examples // 2, 1))
"""Drills are many events: half as many examples as usual, so that the whole stays quick."""

_SETTINGS: dict[str, st.SearchStrategy[Any]] = {
    "choruses": st.integers(1, 3),
    "count_in": st.integers(0, 2),
    "swing": st.sampled_from([1, Fraction(3, 2), 2, "comping"]),
    "tempo_bpm": st.integers(40, 200),
    "tempo_step": st.sampled_from([0, Fraction(5, 2), -5]),
    "staccato": st.sampled_from([1, Fraction(1, 2), Fraction(1, 3)]),
    "ring_over": st.booleans(),
    "stroke": st.sampled_from(["strum", "pluck"]),
    "bass": st.booleans(),
    "root": st.sampled_from([None, "held", "pulsed"]),
    "ending": st.sampled_from([None, None, True, False]),
}


@attrs.frozen
class Drawn:
    """A drill, and what it was made from."""

    tune: Tune
    pattern: RhythmPattern
    click: Click
    settings: dict[str, Any]

    def made(self, **changed: Any) -> Score:
        """Make the drill, with some settings changed."""
        line = line_of(chart_of(self.tune))
        return make_drill(line, self.pattern, self.click, **(self.settings | changed))


@st.composite
def drills(draw: st.DrawFn, *, strange: bool = True, approaches: bool = True) -> Drawn:
    """A drill of any kind."""
    tune, pattern = draw(tunes_and_patterns(strange=strange, approaches=approaches))
    settings = draw(st.fixed_dictionaries(_SETTINGS))
    if tune.meter.compound:
        settings["swing"] = 1
    return Drawn(tune, pattern, draw(st.sampled_from(CLICKS)), settings)


def _rings(drawn: Drawn) -> bool:
    return any(attack.ring_over for attack in drawn.pattern.attacks)


@few
@given(drawn=drills())
def test_every_event_is_inside_the_score(drawn: Drawn) -> None:
    """And in its bar, at its beat as written; events are in order, clicks and notes too."""
    score = drawn.made()
    for event in (*score.events, *score.bass, *score.root):
        assert score.start <= event.onset < event.end <= score.end
    placed: tuple[ChordEvent | ClickEvent | NoteEvent, ...]
    placed = (*score.events, *score.clicks, *score.bass, *score.root)
    for one in placed:
        written = score.written(one.onset)
        # A pickup has the number of the bar that it completes.
        bars = [bar for bar in score.bars if bar.number == one.bar]
        (bar,) = [bar for bar in bars if bar.onset <= written < bar.end]
        assert written == bar.onset - bar.lead_in + bar.meter.onset_of(one.beat)
    tracks: tuple[tuple[ChordEvent | ClickEvent | NoteEvent, ...], ...]
    tracks = (score.events, score.clicks, score.bass, score.root)
    for track in tracks:
        onsets = [one.onset for one in track]
        assert onsets == sorted(onsets)


@few
@given(drawn=drills())
def test_no_event_outlasts_the_next_attack_unless_it_rings_over(drawn: Drawn) -> None:
    """Where the pattern has no mark that says so, none does."""
    assume(not _rings(drawn))
    events = drawn.made().events
    for one, other in pairwise(events):
        assert one.end <= other.onset


@few
@given(drawn=drills())
def test_a_short_chord_ends_on_a_pulse_or_at_the_next_attack_or_change(drawn: Drawn) -> None:
    """Where all are short and none staccato; a held chord alone is not."""
    short = drawn.pattern.with_length("short")
    score = attrs.evolve(drawn, pattern=short, tune=_without_hits(drawn.tune)).made(staccato=1)
    pulses = _pulses(score)
    stops = {event.onset for event in score.events} | {change.end for change in score.changes}
    for event in score.events:
        if event.short:
            assert score.written(event.end) in pulses or event.end in stops
            assert event.length <= score.bar_at(event.onset).meter.pulse


def _without_hits(tune: Tune) -> Tune:
    """Return the tune with a break wherever it has hits."""
    bars = [attrs.evolve(bar, hits=None if bar.hits is None else ()) for bar in tune.bars]
    return attrs.evolve(tune, bars=tuple(bars))


def _pulses(score: Score) -> set[Fraction]:
    found = {score.end}
    for bar in score.bars:
        first = bar.onset - bar.lead_in
        found |= {first + beat * bar.meter.pulse for beat in range(bar.meter.pulses)}
    return found


@few
@given(drawn=drills())
def test_choruses_are_translations_of_one_another_but_for_the_last(drawn: Drawn) -> None:
    """From the second on, for the first may have a pickup and nothing before it.

    The last differs, and so does what the one before it pushes into it.
    """
    score = drawn.made(choruses=5, tempo_step=0)
    second, third = score.choruses[-4:-2]
    by = third.onset - second.onset
    tracks: tuple[tuple[ChordEvent | ClickEvent | NoteEvent, ...], ...]
    tracks = (score.events, score.clicks, score.bass, score.root)
    for track in tracks:
        one, other = (
            [event for event in track if chorus.onset <= score.written(event.onset) < chorus.end]
            for chorus in (second, third)
        )
        assert [_moved(event, by) for event in one] == [
            _moved(event, Fraction(0)) for event in other
        ]


def _moved(event: ChordEvent | ClickEvent | NoteEvent, by: Fraction) -> tuple[object, ...]:
    end = getattr(event, "end", None)
    own = attrs.astuple(
        event, recurse=False, filter=lambda field, _: field.name not in {"onset", "end", "bar"}
    )
    return (event.onset + by, None if end is None else end + by, own)


@few
@given(drawn=drills())
def test_swing_keeps_pulses_in_place(drawn: Drawn) -> None:
    """What is on a pulse without swing is there with it; the rest is where it says it is."""
    assume(not drawn.tune.meter.compound)
    straight, uneven = drawn.made(swing=1), drawn.made(swing=2)
    pulses = _pulses(straight)
    assert len(straight.events) == len(uneven.events)
    for one, other in zip(straight.events, uneven.events, strict=True):
        assert other.onset == uneven.sounding(one.onset)
        assert uneven.written(other.end) == one.end
        if one.onset in pulses:
            assert other.onset == one.onset


@few
@given(drawn=drills(), place=st.fractions(0, 1, max_denominator=48))
def test_what_sounds_is_written_where_it_was(drawn: Drawn, place: Fraction) -> None:
    """`written` undoes `sounding`, anywhere in the score."""
    score = drawn.made()
    time = score.start + (score.end - score.start) * place
    assert score.written(score.sounding(time)) == time


@few
@given(drawn=drills())
def test_a_score_reads_back_equal_from_its_document(drawn: Drawn) -> None:
    """And equal requests give equal bytes."""
    score = drawn.made()
    document = score_document(score)
    assert read_score(document) == score
    assert score_document(drawn.made()) == document
    assert document.isascii()


@few
@given(drawn=drills())
def test_a_chord_sounds_in_its_own_span_or_anticipates_it(drawn: Drawn) -> None:
    """An event sounds the chord at its place; a push, one that starts by the next beat.

    A push among the chart's hits is for the next chord instead, however far it is.
    """
    score = attrs.evolve(drawn, tune=_without_hits(drawn.tune)).made(swing=1)
    for event in score.events:
        if event.push:
            last = event.onset + score.bar_at(event.onset).meter.pulse
            chords = [one.chord for one in score.changes if event.onset < one.onset <= last]
            assert event.chord in chords
        elif not event.approach:
            chords = [one.chord for one in score.changes if one.onset <= event.onset < one.end]
            assert [event.chord] == chords


@few
@given(tune=tunes(strange=False), data=st.data())
def test_a_single_place_sounds_every_chord_in_every_chorus(tune: Tune, data: st.DataObject) -> None:
    """At any beat or half beat, long, short or pushed, over bars that are shared in any way."""
    beat = data.draw(st.integers(0, 2 * tune.meter.pulses - 1))
    onset = tune.meter.pulse * beat / 2
    push = bool(beat % 2) and data.draw(st.booleans())
    attack = Attack(onset, data.draw(st.sampled_from(["long", "short"])), push)
    pattern = RhythmPattern("place", tune.meter, [attack])
    score = make_drill(line_of(chart_of(tune)), pattern, choruses=2, count_in=1)
    for change in score.changes:
        if change.chord is not None:
            early = score.bar_at(change.onset).meter.pulse
            assert any(
                event.chord == change.chord and change.onset - early <= event.onset < change.end
                for event in score.events
            )


@few
@given(
    meter=st.sampled_from(METERS),
    symbols=st.lists(st.sampled_from(["Dm7", "G7", "Cmaj7"]), min_size=1, max_size=4),
    data=st.data(),
)
@example(meter=METERS[0], symbols=["Dm7", "G7"], data=None)
def test_a_single_place_sounds_each_chord_of_a_bar_once(
    meter: Meter, symbols: list[str], data: st.DataObject | None
) -> None:
    """One attack a chord where each has a bar, and where two share one in whole beats."""
    beat = 0 if data is None else data.draw(st.integers(0, 2 * meter.pulses - 1))
    half = meter.pulses % 2 == 0 and (data is None or data.draw(st.booleans()))
    pattern = RhythmPattern("place", meter, [Attack(meter.pulse * beat / 2)])
    places = (0, ticks(meter.length / 2)) if half else (0,)
    bars = [TuneBar(meter, tuple((place, symbol, False) for place in places)) for symbol in symbols]
    tune = Tune(meter, tuple(bars))
    score = make_drill(line_of(chart_of(tune)), pattern)
    assert len(score.events) == len(symbols) * (2 if half else 1)
    for event, change in zip(score.events, score.changes, strict=True):
        assert change.onset <= event.onset < event.end == change.end


@few
@given(drawn=drills())
def test_nothing_sounds_in_nc_but_what_anticipates_the_chord_after_it(drawn: Drawn) -> None:
    """And nothing rings into it."""
    score = drawn.made()
    for change in score.changes:
        if change.chord is None:
            for event in score.events:
                apart = event.end <= change.onset or event.onset >= change.end
                assert apart or event.push


@few
@given(drawn=drills(approaches=False))
def test_the_count_in_holds_nothing_but_the_push_to_the_first_chord(drawn: Drawn) -> None:
    """One chord, and only where its own chorus does not sound it."""
    score = drawn.made()
    early = [event for event in score.events if event.onset < 0]
    assert {event.chord for event in early} <= {score.changes[0].chord}
    assert all(event.push for event in early)


def test_the_laws_can_fail() -> None:
    """An event that is a beat late breaks the one about pulses."""
    score = drill("| C | F |", "1'")
    late = [attrs.evolve(one, end=one.end + Fraction(1, 3)) for one in score.events]
    broken: Callable[[ChordEvent], bool] = lambda event: event.end in _pulses(score)  # noqa: E731
    assert not any(map(broken, late))
    assert all(map(broken, score.events))
