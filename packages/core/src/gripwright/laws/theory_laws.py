"""The laws of the theory core: what intervals, chords, metres and charts do to one another."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from gripwright.errors import ConditionError
from gripwright.laws import drawing
from gripwright.laws.law import Draws, Law, demand
from gripwright.meter import Meter, RhythmPattern
from gripwright.theory import Chord, Interval, Note, Pitch
from gripwright.tune import Chart

if TYPE_CHECKING:
    from collections.abc import Callable

    from hypothesis import strategies as st

    from gripwright.laws.drawing.symbol import Spelling

_UNISON: Final = Interval(0, 0)
_OCTAVE: Final = Interval(7, 12)


def intervals_add_in_any_order(_: None, *, one: Interval, two: Interval, three: Interval) -> None:
    """Brackets and order do not matter in a sum of intervals."""
    demand((one + two) + three == one + (two + three), "brackets matter in their sum")
    demand(one + two == two + one, f"{one} + {two} is {one + two}, the other way {two + one}")


def every_interval_has_an_inverse(_: None, *, interval: Interval) -> None:
    """An interval and its negative make the unison."""
    total = interval + -interval
    demand(total == _UNISON, f"with its negative {-interval} it makes {total}")


def complements_make_octaves(_: None, *, interval: Interval) -> None:
    """An interval and its complement differ from whole octaves by nothing."""
    rest = (interval + interval.complement) - _OCTAVE
    demand(
        rest.steps % _OCTAVE.steps == 0
        and rest.semitones == _OCTAVE.semitones * (rest.steps // _OCTAVE.steps),
        f"with its complement {interval.complement} it makes {interval + interval.complement}",
    )


def pitches_move_by_sums(_: None, *, pitch: Pitch, one: Interval, two: Interval) -> None:
    """To move by a sum is to move by each term in turn; to move back is to return."""
    demand(pitch + (one + two) == (pitch + one) + two, "the sum leads elsewhere than its terms")
    demand((pitch + one) - one == pitch, f"moved up and down it is {(pitch + one) - one}")


def an_interval_is_the_difference_it_makes(_: None, *, low: Pitch, high: Pitch) -> None:
    """The difference of two pitches, added to the one, gives the other."""
    way = high - low
    demand(low + way == high, f"{way} leads from {low} to {low + way}")
    demand(way.semitones == high.midi - low.midi, f"{way} is {way.semitones} semitones")


def notes_and_pitches_read_back(_: None, *, note: Note, pitch: Pitch, interval: Interval) -> None:
    """What is written reads back equal."""
    for value, back in (
        (note, Note.parse(str(note))),
        (pitch, Pitch.parse(str(pitch))),
        (interval, Interval.parse(str(interval))),
    ):
        demand(back == value, f"{value} reads back as {back}")


def symbols_mean_their_chord_in_every_spelling(_: None, *, symbol: Spelling) -> None:
    """Aliases, signs and raised numbers read as the chord that they mean."""
    found = Chord.parse(symbol.text)
    demand(found == symbol.chord, f"it reads as {found} and means {symbol.chord}")


def chords_read_back(_: None, *, chord: Chord) -> None:
    """A chord reads back from its own symbol, which is ASCII."""
    demand(chord.symbol.isascii(), f"its symbol is {chord.symbol!a}")
    back = Chord.parse(chord.symbol)
    demand(back == chord, f"it reads back as {back}")


def chords_move_note_by_note(_: None, *, chord: Chord, interval: Interval) -> None:
    """A chord in another key has the same degrees, and each note moved by the interval."""
    try:
        moved = chord.transposed(interval)
    except ConditionError:
        return
    expected = tuple(note + interval for note in chord.notes)
    demand(moved.notes == expected, f"{moved} has the notes {' '.join(map(str, moved.notes))}")
    demand(moved.degrees == chord.degrees, f"{moved} has the degrees {' '.join(moved.degrees)}")
    demand(moved.essential == chord.essential, f"{moved} needs other tones")
    demand(moved.transposed(-interval) == chord, f"back again it is {moved.transposed(-interval)}")


def essential_tones_are_tones(_: None, *, chord: Chord) -> None:
    """What a chord needs it has, and its notes are its root moved by its degrees."""
    needed = {degree for group in chord.essential for degree in group}
    demand(needed <= set(chord.degrees), f"it needs {' '.join(needed - set(chord.degrees))}")
    notes = tuple(chord.root + degree.interval for degree in chord.degrees)
    demand(notes == chord.notes, f"its notes are {' '.join(map(str, chord.notes))}")


def metres_read_back(_: None, *, meter: Meter) -> None:
    """A metre reads back from its text; its pulses fill its bar."""
    demand(Meter.parse(str(meter)) == meter, f"it reads back as {Meter.parse(str(meter))}")
    demand(
        meter.pulses * meter.pulse == meter.length,
        f"{meter.pulses} pulses of {meter.pulse} quarters do not fill {meter.length}",
    )


def patterns_fill_their_bars_exactly(_: None, *, pattern: RhythmPattern) -> None:
    """What sounds and what is silent follows one another, without gap, to the end."""
    cells = pattern.cells
    demand(
        cells[0].onset == 0
        and all(one.onset + one.length == other.onset for one, other in pairwise(cells))
        and cells[-1].onset + cells[-1].length == pattern.length,
        f"its cells are {[(str(cell.onset), str(cell.length)) for cell in cells]}",
    )


def patterns_read_back(_: None, *, pattern: RhythmPattern) -> None:
    """A pattern reads back from its text."""
    back = RhythmPattern.parse(str(pattern), pattern.meter)
    demand((back.attacks, back.bars) == (pattern.attacks, pattern.bars), f"it reads back as {back}")


def charts_print_to_themselves(_: None, *, chart: Chart[Chord]) -> None:
    """A chart of any kind reads back equal from its own text."""
    demand(Chart.parse(str(chart)) == chart, "it reads back as another chart")


def _law(holds: Callable[..., None], **draws: Callable[[], st.SearchStrategy[Any]]) -> Law:
    def drawn(_: None) -> Draws:
        return {name: strategy() for name, strategy in draws.items()}

    return Law.of("theory", holds, drawn)


LAWS: Final = (
    _law(
        intervals_add_in_any_order,
        one=drawing.intervals,
        two=drawing.intervals,
        three=drawing.intervals,
    ),
    _law(every_interval_has_an_inverse, interval=drawing.intervals),
    _law(complements_make_octaves, interval=drawing.intervals),
    _law(
        pitches_move_by_sums,
        pitch=drawing.pitches,
        one=drawing.intervals,
        two=drawing.intervals,
    ),
    _law(an_interval_is_the_difference_it_makes, low=drawing.pitches, high=drawing.pitches),
    _law(
        notes_and_pitches_read_back,
        note=drawing.notes,
        pitch=drawing.pitches,
        interval=drawing.intervals,
    ),
    _law(symbols_mean_their_chord_in_every_spelling, symbol=drawing.spellings),
    _law(chords_read_back, chord=drawing.chords),
    _law(chords_move_note_by_note, chord=drawing.chords, interval=drawing.small_intervals),
    _law(essential_tones_are_tones, chord=drawing.chords),
    _law(metres_read_back, meter=drawing.meters),
    _law(patterns_fill_their_bars_exactly, pattern=drawing.growing_patterns),
    _law(patterns_read_back, pattern=drawing.patterns),
    _law(charts_print_to_themselves, chart=drawing.charts),
)
"""Every law of the theory core."""
