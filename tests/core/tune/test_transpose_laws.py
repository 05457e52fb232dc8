"""Laws of transposition."""

from __future__ import annotations

from hypothesis import assume, example, given
from hypothesis import strategies as st

from gripwright import Chart, Chord, Interval
from gripwright.laws.drawing import charts
from gripwright.tune import Key
from gripwright.tune.capo import capo_chart
from gripwright.tune.transpose import interval_for, transposed
from tests.core.tune.numeral_strategies import MAJOR_KEYS, MINOR_KEYS, usual_charts

intervals = st.sampled_from(
    ["m2", "A1", "M2", "m3", "A2", "M3", "P4", "A4", "d5", "P5", "m6", "M6", "m7", "M7", "P8"]
).map(Interval.parse)


def sounds(chart: Chart[Chord]) -> list[tuple[int, object, int | None] | None]:
    """What each chord is, spelling left out."""
    return [
        None
        if slot.symbol is None
        else (
            slot.symbol.root.pitch_class,
            slot.symbol.quality,
            None if slot.symbol.bass is None else slot.symbol.bass.pitch_class,
        )
        for bar in chart.bars
        for slot in bar.slots
    ]


@given(usual_charts(minor=False) | usual_charts(minor=True), st.data())
def test_into_another_key_and_back_returns_the_chart(
    chart: Chart[Chord], data: st.DataObject
) -> None:
    """For all keys; sections in others than the chart's keep to five accidentals.

    Nor is a section's key the chart's by another name, as Db is C#: after both have become one
    key, nothing tells them apart.
    """
    assert chart.key is not None
    home = chart.key
    own = [section.settings.key for section in chart.sections]
    tonic = home.tonic.pitch_class
    assume(
        all(
            key is None or key == home or (abs(key.fifths) <= 5 and key.tonic.pitch_class != tonic)
            for key in own
        )
    )
    other = data.draw(st.sampled_from(MINOR_KEYS if home.minor else MAJOR_KEYS))
    assert transposed(transposed(chart, other), home) == chart


@given(
    usual_charts(minor=False, most_fifths=5) | usual_charts(minor=True, most_fifths=5), intervals
)
def test_up_then_down_returns_the_chart(chart: Chart[Chord], interval: Interval) -> None:
    """For keys of up to five accidentals, whose names the rule leaves no choice."""
    assert transposed(transposed(chart, interval), -interval) == chart


@given(charts(), intervals)
@example(Chart.parse("key: Cb\n| Dbbdim7/Gbb |"), Interval.parse("A4"))
def test_every_chord_sounds_an_interval_higher(chart: Chart[Chord], interval: Interval) -> None:
    """In any chart, however it is spelled, and no root needs two accidentals."""
    moved = transposed(chart, interval)
    shift = interval.semitones
    assert sounds(moved) == [
        sound
        and (
            (sound[0] + shift) % 12,
            sound[1],
            None if sound[2] is None else (sound[2] + shift) % 12,
        )
        for sound in sounds(chart)
    ]
    if shift % 12:
        for bar in moved.bars:
            for slot in bar.slots:
                assert slot.symbol is None or abs(slot.symbol.root.alteration) <= 1
    assert Chart.parse(str(moved)) == moved


@given(charts(), st.integers(-24, 24))
def test_semitones_are_as_many_as_asked_for(chart: Chart[Chord], semitones: int) -> None:
    """Up to octaves, in the direction asked for."""
    assert (interval_for(chart, semitones).semitones - semitones) % 12 == 0


@given(charts(), st.integers(0, 11))
def test_behind_a_capo_the_grips_sound_the_chart(chart: Chart[Chord], capo: int) -> None:
    """Every grip lies as much lower as the capo lifts it."""
    behind = capo_chart(chart, capo)
    assert behind.sounding == chart
    for symbol in behind.symbols:
        assert (symbol.played.root.pitch_class + capo) % 12 == symbol.sounding.root.pitch_class
        assert symbol.played.quality == symbol.sounding.quality
    played = behind.played.key
    if chart.key is not None and capo:
        assert isinstance(played, Key)
        assert abs(played.fifths) <= 6
