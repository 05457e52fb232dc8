"""Readers of single words and lines: notes, chords, grips, metres, rhythms, clicks, tunings."""

from fractions import Fraction

from gripwright import (
    Chord,
    ChordSymbolError,
    ConditionError,
    Degree,
    Instrument,
    Interval,
    Meter,
    NotationError,
    Note,
    Pitch,
    RhythmPattern,
    Shape,
    UnknownNameError,
)
from gripwright.tune import Key, Numeral
from gripwright_rhythm import Click
from gripwright_rhythm.swing import swing_ratio
from tests.fuzz.target import text_target

NOTATION = (NotationError,)

CHORD_WORDS = (
    "C F# Bb E\u266d F\U0001d12a H m maj min - M \u0394 \u00f8 \u00b0 dim aug + sus sus4 add no"
    " omit alt 6 7 9 11 13 69 6/9 b5 #5 b9 #9 #11 b13 ( ) , / /G /Bb 77"
)
RHYTHM_WORDS = "1 2 2.5 3.5 4 1.75 ' :1.5 > (above) (below) (double) | , v ^ x ! ~ % 2/3"


def _tuning(text: str) -> Instrument:
    return Instrument.from_text(text)


def _open_strings(instrument: Instrument) -> str:
    return " ".join(str(string.open) for string in instrument.strings)


def _swing(text: str) -> Fraction:
    return swing_ratio(text, Fraction(120), Meter())


NOTATIONS = (
    text_target(
        "note",
        Note.parse,
        allowed=NOTATION,
        seeds=("C", "Bb", "F##"),
        words="A B C G # b \u266d \u266f \U0001d12a \U0001d12b x",
    ),
    text_target(
        "pitch",
        Pitch.parse,
        allowed=NOTATION,
        seeds=("C4", "Bb-1", "F##10"),
        words="A B C # b \u266d - 0 4 10 99",
    ),
    text_target(
        "interval",
        Interval.parse,
        allowed=NOTATION,
        seeds=("m3", "-P5", "AA4", "d12"),
        words="m M P A d - 1 2 3 4 5 7 8 13 99",
    ),
    text_target("degree", Degree, allowed=NOTATION, seeds=("b3", "#11", "bb7"), words="b # 1 7 99"),
    text_target(
        "chord-symbol",
        Chord.parse,
        allowed=(ChordSymbolError,),
        seeds=("Cmaj9", "F#m7b5", "C7(b9,#11)/G", "Bb13sus4"),
        words=CHORD_WORDS,
    ),
    text_target(
        "numeral",
        Numeral.parse,
        allowed=NOTATION,
        seeds=("ii7", "V7/ii", "bIImaj7", "I6/3"),
        words="I II III IV V VI VII i ii iii iv v vi vii b # / /ii /3 7 maj7 m7b5 dim o + 9",
    ),
    text_target(
        "key",
        Key.parse,
        allowed=NOTATION,
        seeds=("Bb", "F#m", "C minor", "Ab major"),
        words="A C F G # b m minor major -",
    ),
    text_target(
        "shape",
        Shape.parse,
        allowed=NOTATION,
        seeds=("x-3-5-4-5-x", "x35453", "8-x-8-9-10-x"),
        words="x X - 0 3 5 10 99",
    ),
    text_target(
        "tuning",
        _tuning,
        allowed=(NotationError, ConditionError),
        seeds=("E2 A2 D3 G3 B3 E4", "G4 C4 E4 A4"),
        words="E2 A2 D3 G#3 Bb3 C-1 C9",
        written=_open_strings,
    ),
    text_target(
        "metre",
        Meter.parse,
        allowed=NOTATION,
        seeds=("4/4", "6/8", "2+2+3/8"),
        words="1 2 3 4 6 7 8 16 32 + /",
    ),
    text_target(
        "rhythm-pattern",
        RhythmPattern.parse,
        allowed=(NotationError, ConditionError),
        seeds=("1 2.5'", "1:1.5 4.5> | 2 3.5'", "2(above) 4"),
        words=RHYTHM_WORDS,
    ),
    text_target(
        "click",
        Click.parse,
        allowed=NOTATION,
        seeds=("2 4", "all", "2-on-2-off"),
        words="1 2 3 4 2.5 all none off -on- -off",
        written=None,
    ),
    text_target(
        "swing",
        _swing,
        allowed=(ConditionError, UnknownNameError),
        seeds=("2", "3/2", "2:1", "drummers"),
        words="1 2 3 / : . e 9 _ drummers 1.5",
        written=None,
    ),
)
"""A target a notation."""
