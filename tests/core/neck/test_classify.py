"""Families of single voicings and of tables, judged from what sounds.

The definitions are common practice; the voicings were worked out by hand.
"""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings

from gripwright import Chord, Pitch, Voicing, find_voicings, load_registry
from gripwright.neck.classify import FAMILIES, families
from tests.core.neck.reference import frets_of, instrument
from tests.core.neck.searches import Search, searches

GUITAR = instrument("guitar")


def voicing_of(symbol: str, shape: str) -> Voicing:
    """Return a shape on the standard guitar as a voicing of a chord."""
    table = find_voicings(Chord.parse(symbol), GUITAR, min_notes=2, min_tones=2)
    row: int = table.frets.tolist().index(list(frets_of(shape)))
    return table[row]


@pytest.mark.parametrize(
    ("symbol", "shape", "belongs_to"),
    [
        ("C", "x-3-2-0-x-x", {"close", "triads"}),
        ("C", "x-3-5-x-5-x", {"spread"}),
        ("C", "x-3-2-0-1-0", {"octave-doubled"}),
        ("Cmaj7", "x-3-5-x-5-7", {"drop-2-4"}),
        ("Cmaj7", "x-x-10-9-8-7", {"close", "triad-over-bass"}),
        ("Cmaj7", "x-3-2-4-x-x", {"shell"}),
        ("Cmaj7", "x-x-2-4-x-x", {"guide-tones"}),
        ("C6", "x-3-2-2-x-x", {"shell", "triads"}),
        ("C7sus4", "x-3-3-3-x-x", {"shell", "quartal"}),
        ("G7", "3-2-3-0-x-x", {"octave-doubled"}),
        ("G7", "3-2-0-0-0-1", {"octave-doubled"}),
        ("C13", "8-x-8-9-10-x", {"drop-3"}),
        ("C6/9", "x-3-2-2-3-x", {"drop-2"}),
        ("C6/9", "x-3-2-2-3-3", set()),
        ("C9", "x-3-2-3-3-x", {"drop-2"}),
        ("C9", "x-3-2-3-3-3", set()),
        ("C7#9", "x-3-2-3-4-x", {"drop-2"}),
        ("G7", "x-x-3-4-3-3", {"triad-over-bass", "drop-2"}),
    ],
)
def test_families_of_single_voicings(symbol: str, shape: str, belongs_to: set[str]) -> None:
    """A voicing belongs to exactly these families."""
    assert set(voicing_of(symbol, shape).families) == belongs_to


@pytest.mark.parametrize(
    ("symbol", "notes", "family", "belongs"),
    [
        ("C6/9", "C3 D3 E3 G3", "cluster", True),
        ("C6/9", "C3 D3 E3 G4", "cluster", False),
        ("C6/9", "C3 E3 G3 A3", "cluster", False),
        ("Cmaj9", "E3 G3 B3 D4", "rootless", True),
        ("Cmaj9", "E3 B3 D4 G4", "rootless", True),
        ("Cmaj9", "G3 B3 D4 E4", "rootless", False),
        ("Cmaj9", "E3 G3 B3 C4", "rootless", False),
        ("Dm11", "D3 G3 C4 F4", "quartal", True),
        ("Fmaj7#11", "F3 B3 E4", "quartal", True),
        ("Dm11", "D3 G3", "quartal", False),
        ("Dm11", "D3 G3 C4 E4", "quartal", False),
        ("G13b9", "F3 B3 E4 Ab4", "upper-structure", True),
        ("G13b9", "B3 F4 E5 Ab5 B5", "upper-structure", True),
        ("G13b9", "E3 F3 Ab3 B3", "upper-structure", False),
        ("Cmaj7", "C3 B3 E4 G4", "triad-over-bass", True),
        ("Cmaj7", "C3 G3 E4 B4", "triad-over-bass", False),
        ("C", "C3 E3 G3", "triad-over-bass", False),
        ("G7", "B2 F3 G3", "shell", False),
        ("Cmaj7", "C3 E3 G3 B3", "close", True),
        ("Cmaj7", "C3 E3 G3 B4", "close", False),
        ("C", "C3 E3 G4", "triads", False),
        # Triads of every kind, and three tones of which one is double.
        ("Caug", "E3 G#3 C4", "triads", True),
        ("Cdim", "Gb3 C4 Eb4", "triads", True),
        ("Cm", "G3 C4 Eb4", "triads", True),
        ("Csus4", "C3 F3 G3", "triads", False),
        ("C", "G3 E4 C5", "spread", True),
        # Guide tones of a fourth or second for the third, of a sixth for the seventh.
        ("Cmaj7", "B3 E4", "guide-tones", True),
        ("Cmaj7", "E3 B3 E4", "guide-tones", False),
        ("C7sus4", "F3 Bb3", "guide-tones", True),
        ("C7sus2", "D3 Bb3", "guide-tones", True),
        ("C7sus2sus4", "F3 Bb3", "guide-tones", True),
        ("C7sus2sus4", "D3 Bb3", "guide-tones", False),
        ("Cm6", "Eb3 A3", "guide-tones", True),
        ("Cdim7", "Eb3 A3", "guide-tones", True),
        ("C", "C3 E3", "guide-tones", False),
        ("Cm7", "C3 Bb3 Eb4", "shell", True),
        ("Cdim7", "C3 Eb3 A3", "shell", True),
        ("C", "C3 E3 G3", "shell", False),
        ("G7b9", "B3 D4 F4 Ab4", "rootless", True),
        ("Cadd9", "E3 G3 C4 D4", "rootless", False),
        ("C7sus4", "C3 F3 C4", "quartal", False),
        # Half of the steps are seconds, minor or major; the whole is narrower than an octave.
        ("Cmaj7", "B3 C4 E4", "cluster", True),
        ("Cmaj7", "B3 C4", "cluster", False),
        ("C6/9", "C3 D3 E3 C4", "cluster", False),
        # Above third and seventh: A major on G7, and what is no whole triad.
        ("G13#11", "F3 B3 C#4 E4 A4", "upper-structure", True),
        ("G13b9", "F3 B3 E4", "upper-structure", False),
        ("G13b9", "F3", "upper-structure", False),
        # A triad may have its lowest tone doubled above; a foreign bass may sound on two strings.
        ("Cmaj7", "C3 E4 G4 B4 E5", "triad-over-bass", True),
        ("C/D", "D3 D3 G3 C4 E4", "triad-over-bass", True),
    ],
)
def test_families_by_their_definitions(
    symbol: str,
    notes: str,
    family: str,
    belongs: bool,  # noqa: FBT001 - what the case says
) -> None:
    """Pitches in any place decide, on no instrument at all."""
    chord = Chord.parse(symbol)
    midis = [Pitch.parse(note).midi for note in notes.split()]
    sounding = [(np.array([True]), np.array([midi], np.int16)) for midi in midis]
    assert bool(families(sounding, chord)[family][0]) is belongs


@pytest.mark.parametrize(
    ("shape", "inversion", "strings"),
    [
        ("x-3-5-4-5-x", "root", (5, 4, 3, 2)),
        ("x-7-9-5-8-x", "1st", (5, 4, 3, 2)),
        ("x-10-10-9-12-x", "2nd", (5, 4, 3, 2)),
        ("x-2-2-0-1-x", "3rd", (5, 4, 3, 2)),
        ("x-x-10-9-8-7", "root", (4, 3, 2, 1)),
    ],
)
def test_inversion_is_named_by_the_sounding_bass(
    shape: str, inversion: str, strings: tuple[int, ...]
) -> None:
    """The four inversions of Cmaj7, with their string sets as players number them."""
    voicing = voicing_of("Cmaj7", shape)
    assert voicing.inversion == inversion
    assert voicing.string_set == strings


def test_the_lowest_pitch_is_the_bass_whatever_its_string() -> None:
    """On a re-entrant ukulele the C string is lower than the G string beside it."""
    ukulele = instrument("ukulele")
    table = find_voicings(Chord.parse("C"), ukulele)
    (voicing,) = (voicing for voicing in table if voicing.shape == "0-0-0-3")
    assert (voicing.inversion, voicing.bass_degree, voicing.top_degree) == ("root", "1", "1")


def test_a_foreign_bass_is_no_inversion() -> None:
    """C over D: the bass is no tone of the chord, and the triad above it is still a triad."""
    (voicing,) = (
        voicing
        for voicing in find_voicings(Chord.parse("C/D"), GUITAR, strings=(4, 3, 2, 1))
        if voicing.shape == "x-x-0-0-1-0"
    )
    assert voicing.inversion == "foreign"
    assert {"triads", "triad-over-bass"} <= set(voicing.families)


@pytest.mark.parametrize("name", ["cluster", "quartal"])
@pytest.mark.parametrize("symbol", ["C6", "C7sus4", "C7sus4b9", "Cdim7", "Csus2", "C5"])
def test_the_frame_is_the_chord_s_own_whatever_its_scale_adds(symbol: str, name: str) -> None:
    """The sixth of C6 stays its sixth though the scale has a seventh; so does a fourth."""
    chord = Chord.parse(symbol)
    table = find_voicings(chord, GUITAR, strategy=load_registry().strategies[name])
    every = find_voicings(chord, GUITAR, min_notes=2, min_tones=2)
    rows = {voicing.frets: row for row, voicing in enumerate(every)}
    free, found = every.families(), table.families()
    for row, voicing in enumerate(table):
        if voicing.frets in rows:
            assert [family for family in FAMILIES if found[family][row]] == [
                family for family in FAMILIES if free[family][rows[voicing.frets]]
            ]


@pytest.mark.parametrize("symbol", ["C/D", "Am/F#", "G7/Ab"])
def test_a_foreign_bass_is_set_aside_in_each_row(symbol: str) -> None:
    """Wherever it lies: a table says of each row what the row says of itself."""
    table = find_voicings(Chord.parse(symbol), GUITAR)
    table = table[:: max(1, len(table) // 60)]
    found = table.families()
    assert found["triad-over-bass"].any() or found["drop-2"].any()
    for row, voicing in enumerate(table):
        assert voicing.families == tuple(name for name in found if found[name][row])


@settings(max_examples=25)
@given(searches())
def test_a_table_and_its_rows_agree(search: Search) -> None:
    """Classifying a whole table says of each row what the row says of itself."""
    table = search.find()
    found = table.families()
    assert list(found) == list(FAMILIES)
    for row, voicing in itertools.islice(enumerate(table), 60):
        assert voicing.families == tuple(name for name in found if found[name][row])


@settings(max_examples=25)
@given(searches())
def test_families_do_not_depend_on_the_order_of_the_strings(search: Search) -> None:
    """Two voicings of the same pitches belong to the same families."""
    by_pitches: dict[tuple[int, ...], tuple[str, ...]] = {}
    for voicing in search.find()[:120]:
        pitches = tuple(sorted(voicing.midi))
        assert by_pitches.setdefault(pitches, voicing.families) == voicing.families


@settings(max_examples=40)
@given(searches(bare=True))
def test_a_voicing_has_one_order_of_four_tones_at_most(search: Search) -> None:
    """The six orders exclude each other, and no doubled tone stands in them (computed)."""
    orders = {"close", "drop-2", "drop-3", "drop-2-4", "drop-2-3", "double-drop"}
    for voicing in search.find()[:100]:
        if search.tones.foreign_bass is None:
            found = orders & set(voicing.families)
            assert len(found) <= 1
            assert not (found and "octave-doubled" in voicing.families)
