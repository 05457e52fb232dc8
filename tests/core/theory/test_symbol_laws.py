"""Laws of reading and writing chord symbols, on text that no player would write."""

from __future__ import annotations

import itertools
import pickle
from typing import TYPE_CHECKING, Final

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from gripwright import Chord, ChordSymbolError, Interval, Note
from gripwright.theory import QUALITIES, Quality
from tests.core.theory.strategies import notes

if TYPE_CHECKING:
    from random import Random

MAX_LENGTH: Final = 64

NASTY: Final = (
    "ABCDEFGHabcdefghMmjinoøØ∅°ºΔ∆△dusltpwr0123456789#b♭♯♮𝄫𝄪+-−–()[]{},/|.%' \t\n"
    "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁽⁾₇٣७①Ⅳß\u0130\u00a0\u200b\u0301\u0000\ufb03\ufdfa\udcff"
)
PIECES: Final = (
    *("C", "F#", "Bb", "B", "H", "E♭", "A𝄫", "D###", "maj", "M", "ma", "Δ", "m", "mi", "-", "dim"),
    *("o", "°", "ø", "aug", "+", "sus", "sus2", "sus4", "alt", "dom", "power", "add", "no", "omit"),
    *("2", "3", "4", "5", "6", "7", "9", "11", "13", "69", "6/9", "b", "#", "♭", "♯", "♮", "bb"),
    *("b5", "#5", "b9", "#9", "#11", "b13", "-5", "+9", "b3", "bb7", "(", ")", ",", " ", "/", "⁷"),
    *("/E", "/G#", "/9", "(maj7)", "(add9)", "(no3)", "(b9,#11)", "N.C.", "7", "7", "9", "13"),
)
ALTERATIONS: Final = ("b5", "#5", "b9", "#9", "#11", "b13")

nasty_text = st.text(alphabet=NASTY, max_size=MAX_LENGTH)
any_text = st.text(max_size=MAX_LENGTH)
symbol_like = st.builds(
    lambda root, pieces: "".join([root, *pieces])[:MAX_LENGTH],
    st.sampled_from(("C", "F#", "Bb", "B", "G♭", "H", "Dbb", "")),
    st.lists(st.sampled_from(PIECES), max_size=9),
)
texts = st.one_of(symbol_like, nasty_text, any_text)

plain_roots = st.builds(Note, letter=st.sampled_from("CDEFGAB"), alteration=st.integers(-1, 1))
qualities = st.sampled_from(list(QUALITIES.values()))
small_intervals = st.sampled_from(
    [
        Interval.parse(name)
        for name in ("P1", "m2", "M2", "m3", "M3", "P4", "A4", "d5", "P5", "m6", "m7", "M7", "P8")
    ]
)
suffixes = st.builds(
    lambda base, tail: base + tail,
    st.sampled_from(
        ("", "m", "6", "7", "9", "11", "13", "maj7", "maj9", "m7", "m9", "dim7", "sus4")
    ),
    st.sampled_from(("", "(b9)", "(#11)", "(b5)", "(no5)", "(add13)", "/E", "/Ab", "(b9,b13)/Db")),
)


def read(text: str) -> Chord | None:
    """Return the chord of a symbol, or nothing where it cannot be read."""
    try:
        return Chord.parse(text)
    except ChordSymbolError:
        return None


@given(texts, st.booleans(), st.booleans(), st.booleans())
@example("", False, False, False)  # noqa: FBT003
@example("C\ufdfa\ufdfa", False, False, False)  # noqa: FBT003 - NFKC makes 18 characters of one
@example("C²", False, False, False)  # noqa: FBT003 - a digit to str.isdigit, not to int
@example("C٣", False, False, False)  # noqa: FBT003 - a digit to int, not to the trade
@example("C\u0130", False, False, False)  # noqa: FBT003 - lower case makes two characters of one
@example("C" + "(" * 63, False, False, False)  # noqa: FBT003
@example("C7" + "b9" * 31, False, False, False)  # noqa: FBT003
@example("C" + "add9" * 15, False, False, False)  # noqa: FBT003
@example("C7" + "9" * 62, False, False, False)  # noqa: FBT003
def test_any_text_ends_in_a_chord_or_in_the_one_error(
    text: str,
    literal: bool,  # noqa: FBT001
    german: bool,  # noqa: FBT001
    dim_is_dim7: bool,  # noqa: FBT001
) -> None:
    """Text of up to 64 characters reads to a chord that reads back, or says where it fails."""
    try:
        chord = Chord.parse(text, literal=literal, german=german, dim_is_dim7=dim_is_dim7)
    except ChordSymbolError as error:
        failure = error
    else:
        assert 1 <= len(chord.symbol) <= MAX_LENGTH
        assert chord.symbol.isascii()
        assert str(chord) == chord.symbol
        assert Chord.parse(chord.symbol) == chord
        assert Chord.parse(chord.symbol).symbol == chord.symbol
        assert chord.degrees
        assert len(set(chord.degrees)) == len(chord.degrees)
        assert all(set(group) <= set(chord.degrees) for group in chord.essential)
        assert [chord.root + degree.interval for degree in chord.degrees] == list(chord.notes)
        return
    assert failure.text == text
    assert 0 <= failure.position <= len(text)
    assert failure.expected
    if failure.nearest is not None:
        assert len(failure.nearest) <= MAX_LENGTH
        Chord.parse(failure.nearest, literal=literal, german=german, dim_is_dim7=dim_is_dim7)
        assert failure.nearest != text
    again = pickle.loads(pickle.dumps(failure))
    assert str(again) == str(failure)
    assert (again.text, again.position, again.expected, again.nearest) == (
        failure.text,
        failure.position,
        failure.expected,
        failure.nearest,
    )


@given(texts)
def test_reading_is_a_function_of_the_text(text: str) -> None:
    """The same text gives the same chord, or the same error, each time."""
    assert read(text) == read(text)


@given(st.text(alphabet=NASTY, min_size=MAX_LENGTH + 1, max_size=200))
def test_longer_text_is_refused(text: str) -> None:
    """Text over 64 characters is refused, whatever it says."""
    with pytest.raises(ChordSymbolError, match="64"):
        Chord.parse(text)


@pytest.mark.parametrize("name", list(QUALITIES))
def test_every_quality_on_every_root_reads_back(name: str) -> None:
    """A chord built from a quality of the table writes a symbol that reads back to it."""
    quality = QUALITIES[name]
    for letter, alteration in itertools.product("CDEFGAB", range(-3, 4)):
        chord = Chord(Note(letter, alteration), quality)
        assert len(chord.symbol) <= MAX_LENGTH
        assert Chord.parse(chord.symbol) == chord
        assert Chord.parse(chord.symbol).degrees == quality.degrees


@given(notes, qualities, notes)
def test_every_quality_over_every_bass_reads_back(root: Note, quality: Quality, bass: Note) -> None:
    """A slash bass of up to three accidentals is written and read back too."""
    chord = Chord(root, quality, bass)
    assert len(chord.symbol) <= MAX_LENGTH
    assert Chord.parse(chord.symbol) == chord


@given(plain_roots, suffixes, small_intervals)
def test_transposing_a_chord_transposes_its_spelling(
    root: Note, suffix: str, interval: Interval
) -> None:
    """Every note and the bass move by the interval, and the quality stays."""
    chord = read(f"{root}{suffix}")
    if chord is None:
        return
    moved = chord.transposed(interval)
    assert moved.root == chord.root + interval
    assert moved.notes == tuple(note + interval for note in chord.notes)
    assert moved.degrees == chord.degrees
    assert moved.essential == chord.essential
    assert moved.quality == chord.quality
    assert moved.bass == (None if chord.bass is None else chord.bass + interval)
    assert moved == Chord.parse(moved.symbol)


@given(plain_roots, qualities, small_intervals)
def test_transposing_up_then_down_returns_the_chord(
    root: Note, quality: Quality, interval: Interval
) -> None:
    """Transposition by an interval is undone by its negative."""
    chord = Chord(root, quality)
    assert chord.transposed(interval).transposed(-interval) == chord


@given(
    st.sampled_from(("m", "7", "9", "13", "maj7", "maj9", "m7", "m9", "6", "6/9", "7sus4", "maj")),
    st.lists(st.sampled_from(ALTERATIONS), min_size=1, max_size=4, unique=True),
    st.randoms(use_true_random=False),
)
def test_the_order_of_alterations_does_not_matter(
    base: str, alterations: list[str], random: Random
) -> None:
    """Alterations read alike in any order, run together or in brackets with commas."""
    shuffled = list(alterations)
    random.shuffle(shuffled)
    straight = read(f"C{base}({','.join(alterations)})")
    assert read(f"C{base}({','.join(shuffled)})") == straight
    assert read(f"C{base}{''.join(alterations)}") == straight
    assert read(f"C{base}{''.join(shuffled)}") == straight
    if straight is not None:
        assert set(alterations) <= set(straight.degrees)


@pytest.mark.parametrize("size", range(1, len(ALTERATIONS) + 1))
def test_a_seventh_chord_takes_every_set_of_alterations(size: int) -> None:
    """Each set of alterations reads on a dominant seventh, in each order, to one chord."""
    for chosen in itertools.combinations(ALTERATIONS, size):
        chord = Chord.parse("C7" + "".join(chosen))
        assert {"1", "3", "b7", *chosen} <= set(chord.degrees)
        assert ("5" in chord.degrees) == (not {"b5", "#5"} & set(chosen))
        for order in itertools.islice(itertools.permutations(chosen), 24):
            assert Chord.parse("C7" + "".join(order)) == chord


@given(symbol_like)
def test_unicode_signs_read_as_their_ascii_forms(text: str) -> None:
    """Where a symbol in ASCII reads, so does the same with Unicode signs."""
    chord = read(text)
    if chord is None or not text.isascii() or "bb" in text or "##" in text:
        return
    fancy = text.replace("b", "♭").replace("#", "♯")
    assert read(fancy) == chord
