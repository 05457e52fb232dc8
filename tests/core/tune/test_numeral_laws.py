"""Laws of numerals."""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import Chord, Degree, NotationError
from gripwright.laws.drawing import spelled_chords
from gripwright.theory import QUALITIES
from gripwright.tune import Key
from gripwright.tune.numeral import Numeral, Target
from tests.core.tune.numeral_strategies import (
    MAJOR_KEYS,
    MINOR_KEYS,
    numerals,
    usual_numerals,
)

keys = st.sampled_from(MAJOR_KEYS + MINOR_KEYS)


@given(numerals)
@example(Numeral(Degree("b2"), QUALITIES["7"], Target(Degree("5"))))
@example(Numeral(Degree("1"), QUALITIES["sus2"], None, Degree("4")))
def test_a_numeral_reads_back_to_itself(numeral: Numeral) -> None:
    """Text holds all there is."""
    text = str(numeral)
    assert Numeral.parse(text) == numeral
    assert text.isascii()
    assert not set(text) & set(" |;{}<>@")


@given(numerals, keys)
def test_the_root_lies_where_the_degrees_say(numeral: Numeral, key: Key) -> None:
    """Whatever it is called, it sounds at the degree above what it is applied to."""
    chord = numeral.realise(key)
    above = 0 if numeral.target is None else numeral.target.degree.semitones
    tone = key.tonic.pitch_class + above + numeral.degree.semitones
    assert chord.root.pitch_class == tone % 12
    assert chord.quality == numeral.quality
    assert abs(chord.root.alteration) <= 1
    if numeral.bass is not None:
        assert chord.bass is not None
        assert chord.bass.pitch_class == (key.tonic.pitch_class + numeral.bass.semitones) % 12
        assert abs(chord.bass.alteration) <= 1


@given(usual_numerals(), keys)
def test_realised_numerals_read_out_as_themselves(numeral: Numeral, key: Key) -> None:
    """On the degree by which players name a chord, in every key."""
    assert Numeral.of(numeral.realise(key), key) == numeral


@given(spelled_chords(), keys)
def test_a_chord_read_out_and_realised_sounds_the_same(chord: Chord, key: Key) -> None:
    """However it was spelled; and once spelled for the key it stays."""
    again = Numeral.of(chord, key).realise(key)
    assert again.root.pitch_class == chord.root.pitch_class
    assert again.quality == chord.quality
    assert (again.bass is None) == (chord.bass is None)
    if again.bass is not None and chord.bass is not None:
        assert again.bass.pitch_class == chord.bass.pitch_class
    assert Numeral.of(again, key).realise(key) == again


@given(st.text("IVivb#m7/øsub69aj°()+-1 ", max_size=14))
@example("V7/")
@example("i" + "/" * 5)
@example("subV")
def test_any_text_is_read_or_refused_with_a_place(text: str) -> None:
    """And what is offered instead can be read."""
    try:
        numeral = Numeral.parse(text)
    except NotationError as error:
        assert 0 <= error.position <= len(text)
        assert error.nearest is None or Numeral.parse(error.nearest)
    else:
        assert Numeral.parse(str(numeral)) == numeral
