"""Names against tables and libraries outside the module.

``equivalences.tsv`` (common practice; computed and checked) holds grips that serve as other
chords. mir_eval.chord (MIT) gives the tones of a Harte label as twelve bits; it knows the qualities
of ``HARTE_LABELS``, and nothing of spelling. ``voicings.tsv`` (common practice) holds worked grips.
"""

from __future__ import annotations

from typing import Final

import pytest
from hypothesis import given

from gripwright import Chord, Note, Pitch, name_notes
from gripwright.theory import QUALITIES
from tests.core.neck.reference import rows
from tests.core.theory.naming_model import ROOT_NAMES, some_notes
from tests.core.theory.test_chord_outside import HARTE_LABELS, harte_pitch_classes

# The table writes the triads by name.
_TRIADS: Final = {"min": "m"}
EQUIVALENCES: Final = rows("equivalences.tsv")


def quality_name(text: str) -> str:
    """Return our name of a quality of the table."""
    return _TRIADS.get(text, text)


@pytest.mark.parametrize("row", EQUIVALENCES, ids=lambda row: f"{row['shape']}-{row['serves_as']}")
def test_shape_serves_as_the_chord_of_the_table_on_every_root(row: dict[str, str]) -> None:
    """The other lives of a grip are found by arithmetic, with what they leave out."""
    shape = QUALITIES[quality_name(row["shape"])]
    target = QUALITIES[quality_name(row["serves_as"])]
    for text in ROOT_NAMES:
        root = Note.parse(text)
        target_root = (root.pitch_class + int(row["semitones_up"])) % 12
        (name,) = (
            name
            for name in name_notes(Chord(root, shape).notes, spelled=False)
            if name.chord.quality is target and name.chord.root.pitch_class == target_root
        )
        assert list(name.left_out) == row["missing"].split()
        assert name.rooted == ("1" not in row["missing"].split())


@given(notes=some_notes)
def test_named_chords_contain_the_notes_by_mir_evals_bitmaps(notes: list[Note]) -> None:
    """Every chord that mir_eval knows holds the notes, and is named if it holds them."""
    heard = {note.pitch_class for note in notes}
    named = {
        (name.chord.root.pitch_class, name.chord.quality.name)
        for name in name_notes(notes)
        if name.chord.quality.name in HARTE_LABELS
    }
    holding = {
        (root, suffix)
        for root, text in enumerate(ROOT_NAMES)
        for suffix, label in HARTE_LABELS.items()
        if heard <= harte_pitch_classes(text, label)
    }
    assert named == holding


@pytest.mark.parametrize(
    "row", rows("voicings.tsv"), ids=lambda row: f"{row['chord']}-{row['frets']}"
)
def test_worked_grip_is_named_as_its_chord_with_its_degrees(row: dict[str, str]) -> None:
    """A grip of the trade's table has its chord among its names, on the first screen."""
    chord = Chord.parse(row["chord"])
    pitches = [Pitch.parse(text) for text in row["notes"].split()]
    names = name_notes(pitches, spelled=False)[:20]
    (name,) = (
        name
        for name in names
        if (name.chord.root, name.chord.quality) == (chord.root, chord.quality)
    )
    assert list(name.degrees) == row["degrees"].split()
