"""Canonical symbols: the one way in which each chord is written. The order of writing is ours."""

from __future__ import annotations

import pytest

from gripwright import Chord
from gripwright.theory import QUALITIES
from gripwright.theory.canonical import canonical_quality
from gripwright.theory.degree import Degree


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        # A tone of the table's own suffix needs no modifier.
        ("C13no9", "C7add13"),
        ("Cm11no9", "Cm7(11)"),
        ("Cø9", "Cm9b5"),
        ("C6add9", "C6/9"),
        ("Cm7sus4", "C7sus4"),
        ("Cmaj7add6", "Cmaj7add13"),
        # What is left out is left out of the chord that was meant, not of its suspension.
        ("C(no3)", "Cno3"),
        ("Csus4no4", "Cno3"),
        ("C9no3", "C9no3"),
        ("C13no5no3", "C13no3no5"),
        ("Cmaj7no3", "Cmaj7no3"),
        ("C7no1no5", "C7no1no5"),
        ("C7altno5", "C7altno5"),
        # What is put in beside stays.
        ("C7no5add#5", "C7#5"),
        ("C7no5#5", "C7#5"),
        ("C9no9add#9", "C7#9"),
        ("C7alt#9no9", "C7alt#9no9"),
        ("C7altb5no5", "C7altb5no5"),
        ("Cdim7sus4add3no4", "Cdim7add3no3"),
        ("C13no5", "C13no5"),
        # Rather one alteration than an addition and an omission, and none than either.
        ("C7add#11", "C7#11"),
        ("C(add9,#11)", "Cadd9#11"),
        ("C7addb5", "C7addb5"),
        ("C7add#5", "C7add#5"),
        ("C7b5#5b9#9", "C7b9#9b5#5"),
        ("C13b5b9", "C13b9b5"),
        ("C7#5#11", "C7#5#11"),
        # Brackets where a sign would be taken with the root, or an added tone with the m.
        ("Caddb9", "C(b9)"),
        ("C(b5)", "C(b5)"),
        ("Csus4b9", "Csus4b9"),
        ("Cm(b6)", "Cmb6"),
        ("Cmadd11", "Cm(add11)"),
        ("Cmadd9b5", "Cm(add9)b5"),
        ("Cm6add11", "Cm6add11"),
        ("C7add13add11", "C7add11add13"),
        # Suspensions before all else.
        ("Cmaj7sus4sus2", "Cmaj7sus24"),
        ("Csus2sus4", "Csus24"),
        ("Csus4add9", "Cadd9sus4"),
        ("Csus2add13", "Csus2add13"),
        ("C13susb9", "C13sus4b9"),
        ("C9sus2", "C7sus2"),
        ("Csus4add3", "Csus4add3"),
        # What must sound shows in the symbol: the root without the seventh, an added tone.
        ("C7b9#11no7", "C7b9#11no7"),
        ("Cm11b5no7", "Cm11b5no7"),
        ("C13(literal)add9", "C13(literal)add9"),
        # With its suspension C11 would be written as C9sus4 may be.
        ("C11(literal)sus4", "C11(literal)sus4"),
    ],
)
def test_each_chord_is_written_in_one_way(written: str, canonical: str) -> None:
    """Fewest modifiers, in the order suspensions, alterations, additions, omissions."""
    chord = Chord.parse(written)
    assert chord.symbol == canonical
    assert Chord.parse(canonical) == chord
    tones = chord.quality.degrees, chord.quality.essential
    named = canonical_quality(*tones)
    assert (named.degrees, named.essential) == tones


@pytest.mark.parametrize(
    ("symbol", "tensions", "avoid"),
    [
        ("C7b5b9", "#9", "5 11"),
        ("C7no5", "9 #11 13 b9 #9 b13", "11"),
        ("C7add13", "9 #11 b9 #9 b13", "11"),
        ("C7add11", "9 #11 13 b9 #9 b13", ""),
        ("Cm7b13", "9 11", "b9"),
        ("C6sus2", "#11", "11"),
        ("C(b6)", "9", "11"),
    ],
)
def test_tensions_of_a_changed_chord_are_those_it_does_not_have_yet(
    symbol: str, tensions: str, avoid: str
) -> None:
    """No tension sounds as a tone does or lies beside an altered one; no tone is avoided."""
    quality = Chord.parse(symbol).quality
    assert " ".join(quality.tensions) == tensions
    assert " ".join(quality.avoid) == avoid


@pytest.mark.parametrize("name", sorted(QUALITIES))
def test_a_quality_of_the_table_keeps_its_name(name: str) -> None:
    """What the table knows is found whole, with everything that the table says of it."""
    quality = QUALITIES[name]
    assert canonical_quality(quality.degrees, quality.essential) is quality


def test_tones_that_no_symbol_writes_are_refused() -> None:
    """No modifier of chord symbols adds a flat second."""
    degrees = tuple(map(Degree, ("1", "b2", "3")))
    with pytest.raises(LookupError, match=r"^no chord symbol writes the tones 1 b2 3$"):
        canonical_quality(degrees, ((degrees[0],), (degrees[1],)))
