"""The laws of instruments: where frets lie, what strings sound, what a capo does."""

from __future__ import annotations

import math
import pickle
from typing import TYPE_CHECKING, Final

from hypothesis import strategies as st

from gripwright.laws.drawing import chords
from gripwright.laws.law import Draws, Law, LawBrokenError, demand
from gripwright.neck.search import find_voicings
from gripwright.neck.shape import Shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gripwright.neck import Instrument, InstrumentString
    from gripwright.theory import Chord

SHORTEST_MM: Final = 100.0
LONGEST_MM: Final = 2000.0
"""Strings that are shorter or longer are measured in another unit."""

_HIGHEST_MIDI: Final = 127
_WITHIN_MM: Final = 1e-6
_SEARCHED_FRETS: Final = 5
_SEMITONES_IN_OCTAVE: Final = 12


def frets_lie_in_equal_temperament(instrument: Instrument, *, string: int, fret: int) -> None:
    """Fret f of a string of length L lies L(2^(-a/12) - 2^(-f/12)) along the neck.

    a is the fret at which fanned scales are aligned (twelve-tone equal temperament).
    """
    index = _index(instrument, string)
    length = instrument.strings[index].scale_mm
    share = 2.0 ** (-instrument.align_fret / _SEMITONES_IN_OCTAVE)
    expected = length * (share - 2.0 ** (-fret / _SEMITONES_IN_OCTAVE))
    found = instrument.place_mm(index, fret)
    demand(
        math.isclose(found, expected, rel_tol=0.0, abs_tol=_WITHIN_MM),
        f"it lies at {found:.2f} mm, and equal temperament puts it at {expected:.2f} mm",
    )


def each_fret_raises_a_semitone(instrument: Instrument, *, string: int, fret: int) -> None:
    """A string at fret f sounds f semitones above its open pitch, fewer where it starts late."""
    index = _index(instrument, string)
    own = instrument.strings[index]
    if 0 < fret < instrument.lowest_press(index):
        return
    expected, found = _pitch_of(own, fret), instrument.sounding(index, fret)
    demand(found == expected, f"it sounds MIDI {found}, and {own.open} there makes {expected}")


def strings_are_measured_in_mm(instrument: Instrument) -> None:
    """Every string is between 100 and 2000 mm long."""
    for number, own in enumerate(reversed(instrument.strings), start=1):
        demand(
            SHORTEST_MM <= own.scale_mm <= LONGEST_MM,
            f"string {number} is {own.scale_mm:g} mm long: lengths are in mm,"
            f" {SHORTEST_MM:g} to {LONGEST_MM:g}",
        )


def every_fret_sounds_a_midi_note(instrument: Instrument) -> None:
    """From the lowest open string to the highest fret, doubles too, all lies within MIDI."""
    last = len(instrument.strings)
    for index, own in enumerate(instrument.strings):
        highest = instrument.sounding(index, instrument.frets)
        heard = [own.open.midi, highest, *(mate.midi for mate in own.doubles)]
        demand(
            all(0 <= midi <= _HIGHEST_MIDI for midi in heard),
            f"string {last - index}, {own.open}, leaves MIDI's 0 to {_HIGHEST_MIDI}:"
            f" it sounds {min(heard)} to {max(heard)}",
        )


def a_capo_shortens_the_neck(instrument: Instrument, *, capo: int, string: int, fret: int) -> None:
    """Above a capo all is as it was: pitches, and distances along the neck."""
    index, whole = _index(instrument, string), fret + capo
    if whole > instrument.frets or whole < instrument.lowest_press(index):
        return
    short = instrument.with_capo(capo)
    before, after = instrument.sounding(index, whole), short.sounding(index, fret)
    demand(after == before, f"it sounds MIDI {after}, and {before} without the capo")
    demand(
        short.frets == instrument.frets - capo,
        f"{short.frets} frets are left of {instrument.frets}",
    )
    next_fret = min(whole + 1, instrument.frets)
    was = instrument.place_mm(index, next_fret) - instrument.place_mm(index, whole)
    now = short.place_mm(index, next_fret - capo) - short.place_mm(index, fret)
    demand(
        math.isclose(was, now, rel_tol=0.0, abs_tol=_WITHIN_MM),
        f"the next fret is {now:.2f} mm away, and {was:.2f} mm without the capo",
    )


def an_instrument_is_a_value(instrument: Instrument, *, string: int, fret: int) -> None:
    """Asked again, it answers the same; a copy of it is equal to it and answers so too."""
    again: Instrument = pickle.loads(pickle.dumps(instrument))  # noqa: S301 - pickled here
    demand(again == instrument, "a copy of it is not equal to it")
    demand(hash(again) == hash(instrument), "a copy of it, though equal, has another hash")
    thrice, index = (instrument, instrument, again), _index(instrument, string)
    places = [own.place_mm(index, fret) for own in thrice]
    demand(
        len(set(places)) == 1,
        lambda: "the fret lies at {} mm, and asked again at {} mm".format(*_unlike(places)),
    )
    pitches = [own.sounding(index, fret) for own in thrice]
    demand(
        len(set(pitches)) == 1,
        lambda: "it sounds MIDI {}, and asked again MIDI {}".format(*_unlike(pitches)),
    )


def grips_sound_their_chord(instrument: Instrument, *, chord: Chord) -> None:
    """What a search finds lies on the neck and sounds tones of the chord, the same each time."""
    most = min(_SEARCHED_FRETS, instrument.frets)
    table = find_voicings(chord, instrument, highest_fret=most)
    wanted = {note.pitch_class for note in chord.notes}
    if chord.bass is not None:
        wanted.add(chord.bass.pitch_class)
    for frets in table.frets.tolist():
        heard = {
            _pitch_of(own, fret) % _SEMITONES_IN_OCTAVE
            for own, fret in zip(instrument.strings, frets, strict=True)
            if fret >= 0
        }
        if not heard <= wanted:
            raise LawBrokenError(fault=f"{Shape(frets)} sounds a tone that is none of {chord}")
    again = find_voicings(chord, instrument, highest_fret=most)
    demand(again.frets.tobytes() == table.frets.tobytes(), "a second search finds other grips")


def _index(instrument: Instrument, string: int) -> int:
    """The index of a string by its number as players count, 1 on the treble side."""
    return len(instrument.strings) - string


def _pitch_of(own: InstrumentString, fret: int) -> int:
    """The MIDI number of a string at a fret, as the definition has it."""
    return own.open.midi + (fret and fret - own.first_fret)


def _unlike(answers: Sequence[float]) -> tuple[float, float]:
    """The first answer, and the first that is not like it."""
    return answers[0], next(one for one in answers if one != answers[0])


def _places(instrument: Instrument) -> Draws:
    return {
        "string": st.integers(1, len(instrument.strings)),
        "fret": st.integers(0, instrument.frets),
    }


def _capos(instrument: Instrument) -> Draws:
    return {
        "capo": st.integers(0, instrument.frets - 1),
        "string": st.integers(1, len(instrument.strings)),
        "fret": st.integers(1, instrument.frets),
    }


LAWS: Final = (
    Law.of("instrument", frets_lie_in_equal_temperament, _places),
    Law.of("instrument", each_fret_raises_a_semitone, _places),
    Law.of("instrument", strings_are_measured_in_mm),
    Law.of("instrument", every_fret_sounds_a_midi_note),
    Law.of("instrument", a_capo_shortens_the_neck, _capos),
    Law.of("instrument", an_instrument_is_a_value, _places),
    Law.of("instrument", grips_sound_their_chord, lambda _own: {"chord": chords()}, share=0.4),
)
"""Every law of instruments."""
