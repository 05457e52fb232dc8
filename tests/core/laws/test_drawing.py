"""What is drawn: symbols in every spelling, instruments of every form, charts with signs."""

import unicodedata

from hypothesis import find, given, settings

from gripwright import Chord, Instrument
from gripwright.laws import drawing
from gripwright.laws.drawing.symbol import Spelling
from gripwright.tune import Chart

MANY = settings(max_examples=5000, database=None, deadline=None)


@given(drawing.spellings())
def test_a_spelling_reads_as_its_chord(spelling: Spelling) -> None:
    """Whatever signs it is written in."""
    assert Chord.parse(spelling.text) == spelling.chord


def test_symbols_come_in_letters_in_signs_and_with_raised_numbers() -> None:
    """The three ways of writing them down."""
    for wanted in (
        lambda text: text.startswith("Bb"),
        lambda text: "♭" in text,
        lambda text: any(unicodedata.name(sign).startswith("SUPERSCRIPT") for sign in text),
        lambda text: "/" in text,
    ):
        assert wanted(find(drawing.symbols(), wanted, settings=MANY))


def test_instruments_come_re_entrant_fanned_and_with_short_strings() -> None:
    """Nothing may assume that pitches rise, or that strings are alike."""

    def re_entrant(own: Instrument) -> bool:
        return own.sounding(0, 0) > own.sounding(1, 0)

    assert find(drawing.instruments(), re_entrant, settings=MANY)
    assert find(drawing.instruments(), lambda own: own.fanned, settings=MANY)
    assert find(
        drawing.instruments(),
        lambda own: any(string.first_fret for string in own.strings),
        settings=MANY,
    )


@given(drawing.progressions())
def test_progressions_are_played_as_they_stand(chart: Chart[Chord]) -> None:
    """No repeat, no jump: as many bars are played as are written."""
    assert len(chart.unfolded().bars) == len(chart.bars)
