"""Who else plays: what each word leaves to the guitar."""

import pytest

from gripwright import Chord, Instrument, find_voicings
from gripwright.leading import BANDS, Band, Line, lead
from gripwright.neck.conditions import ROOT_POLICIES
from tests.core.leading.tunes import GUITAR, chords
from tests.core.neck.reference import instrument

BLUES = "F7 Bb7 F7 Cm7 F7 Bb7 Bdim7 F7 D7b9 Gm7 C7 F7"
SEVEN = instrument("seven-string")
FOURTHS = Instrument.from_text("E2 A2 D3 G3 C4 F4", frets=22, id="fourths")
OWN = [GUITAR, SEVEN, FOURTHS]

# What the summaries say, written out once more: root sounds or not, lowest note, notes.
SAID = {
    "solo": (True, 0, (1, 7)),
    "bass": (False, 48, (3, 4)),
    "piano": (False, 52, (2, 3)),
    "singer": (True, 0, (3, 5)),
}


def with_root(line: Line) -> list[bool]:
    """Return for each chord whether its root sounds."""
    return ["1" in step.voicing.degrees for step in line.steps]


def test_the_words_are_those_of_the_issue() -> None:
    """Each under its own name, with policies that the search knows."""
    assert list(BANDS) == list(SAID)
    for name, band in BANDS.items():
        assert band.name == name
        assert band.summary
        assert set(band.roots) <= set(ROOT_POLICIES)


@pytest.mark.parametrize("own", OWN, ids=lambda own: own.id)
@pytest.mark.parametrize("name", SAID)
def test_each_word_sets_root_lowest_note_and_number_of_notes(name: str, own: Instrument) -> None:
    """Over a blues in F, on six strings, seven, and in all fourths."""
    root, lowest, (fewest, most) = SAID[name]
    line = lead(chords(BLUES), own, band=BANDS[name], candidates=100)
    assert with_root(line) == [root] * 12
    for step in line.steps:
        assert min(step.voicing.midi) >= lowest
        assert fewest <= len(step.voicing.midi) <= most


def test_policies_are_tried_in_their_order_chord_by_chord() -> None:
    """A triad has no three tones without its root; its neighbours keep theirs out."""
    line = lead(chords("Cmaj7 C G7"), GUITAR, band=BANDS["bass"], candidates=50)
    assert with_root(line) == [False, True, False]


def test_the_second_policy_is_used_only_where_the_first_leaves_nothing() -> None:
    """With the root first, the same chords all have it, though rootless grips are cheaper."""
    tune = chords("Dm7 G7 Cmaj7")
    first = Band("own", "", ("required", "none"))
    second = Band("own", "", ("none", "required"))
    assert with_root(lead(tune, GUITAR, band=first)) == [True] * 3
    assert with_root(lead(tune, GUITAR, band=second)) == [False] * 3


def test_a_policy_whose_grips_the_lowest_note_forbids_is_passed_over() -> None:
    """Rootless grips of C7 on the three lowest strings lie below C3, but for none."""
    (c7,) = chords("C7")
    strings = (6, 5, 4)
    rootless = find_voicings(c7, GUITAR, root="none", strings=strings, highest_fret=8)
    assert max(rootless.columns["bass_midi"]) < 48
    band = Band("own", "", ("none", "optional"), lowest=BANDS["bass"].lowest)
    (step,) = lead([c7], GUITAR, band=band, strings=strings, highest_fret=8).steps
    assert min(step.voicing.midi) >= 48
    assert "1" in step.voicing.degrees


def test_conditions_go_before_the_band() -> None:
    """A root that is asked for, and a number of notes."""
    tune = chords("Dm7 G7 Cmaj7")
    asked = lead(tune, GUITAR, band=BANDS["bass"], root="required", min_notes=4)
    assert with_root(asked) == [True] * 3
    assert all(len(step.voicing.midi) == 4 for step in asked.steps)
    free = lead(tune, GUITAR, band=BANDS["solo"], root="none")
    assert with_root(free) == [False] * 3


def test_conditions_may_ask_for_more_notes_than_the_band_leaves() -> None:
    """Five where a bass leaves room for four."""
    line = lead(chords("Dm9 G13"), GUITAR, band=BANDS["bass"], min_notes=5, max_notes=5)
    assert [len(step.voicing.midi) for step in line.steps] == [5, 5]


def test_a_band_bounds_the_notes_from_both_sides() -> None:
    """Two and two leave no choice, where the teaching order would begin with four."""
    tune = chords("Dm7 G7 Cmaj7")
    two = Band("own", "", ("optional",), min_notes=2, max_notes=2)
    assert [len(step.voicing.midi) for step in lead(tune, GUITAR, band=two).steps] == [2, 2, 2]
    assert all(len(step.voicing.midi) > 2 for step in lead(tune, GUITAR).steps)


def test_a_band_that_asks_nothing_changes_nothing() -> None:
    """The line is that of nobody being named."""
    tune = [Chord.parse("Dm7"), Chord.parse("G7")]
    assert lead(tune, GUITAR, band=Band("own", "", ("optional",))) == lead(tune, GUITAR)
