"""Neck diagrams as marks, before any format."""

import pytest

from gripwright import diagram
from gripwright.neck.fingering import fingering_of
from tests.core.neck.diagram.drawn import BANJO, GUITAR, grip

GRIPS = [("Cmaj7", "x-3-5-4-5-x", GUITAR), ("C", "x-3-2-0-1-0", GUITAR), ("G", "0-0-0-0-0", BANJO)]


@pytest.mark.parametrize(("symbol", "shape", "instrument"), GRIPS)
def test_compact_neck_keeps_its_tones_and_is_lower(
    symbol: str, shape: str, instrument: object
) -> None:
    """It has the same dots and labels; no pitches stand below."""
    voicing = grip(symbol, shape, instrument)  # type: ignore[arg-type]
    usual = diagram.neck_picture(voicing, diagram.Look(), title="")
    compact = diagram.neck_picture(voicing, diagram.Look(compact=True), title="")
    assert compact.height < usual.height * 0.85
    kinds = (diagram.Disc, diagram.Block)
    assert sum(isinstance(one, kinds) for one in usual.marks) == sum(
        isinstance(one, kinds) for one in compact.marks
    )
    # The number of the first fret ends beside the neck; labels stand around their middles.
    words = [
        one.text
        for one in compact.marks
        if isinstance(one, diagram.Words) and one.anchor == "middle"
    ]
    assert not {str(pitch) for pitch in voicing.pitches} & set(words)
    assert [text for text in words if text in voicing.degrees] == list(voicing.degrees)


def test_scaled_picture_is_the_same_picture() -> None:
    """Twice as large and half of that is where it was."""
    voicing = grip("Cmaj7", "x-3-5-4-5-x")
    neck = diagram.neck_picture(voicing, diagram.Look(compact=True))
    assert neck.scaled(2.0).scaled(0.5) == neck
    assert neck.scaled(2.0).moved(3.0, 4.0).width == 2 * neck.width + 3.0


def test_compact_neck_is_as_wide_as_its_strings() -> None:
    """A sixth string is one gap more than five."""
    widths = [
        diagram.neck_picture(
            grip(symbol, shape, instrument),
            diagram.Look(compact=True),
        ).width
        for symbol, shape, instrument in GRIPS[1:]
    ]
    assert widths[0] - widths[1] == pytest.approx(18.0)


def test_grip_is_told_string_by_string_from_the_bass_side() -> None:
    """Strings count from the treble side, as players count them; fingers are told where given."""
    voicing = grip("C", "x-3-2-0-1-0")
    assert diagram.describe(voicing) == (
        "String 6 muted; string 5 at fret 3: C3, degree 1; string 4 at fret 2: E3, degree 3; "
        "string 3 open: G3, degree 5; string 2 at fret 1: C4, degree 1; "
        "string 1 open: E4, degree 3."
    )
    assert diagram.describe(voicing, fingering_of(voicing.frets, GUITAR)) == (
        "String 6 muted; string 5 at fret 3 with finger 3: C3, degree 1; "
        "string 4 at fret 2 with finger 2: E3, degree 3; string 3 open: G3, degree 5; "
        "string 2 at fret 1 with finger 1: C4, degree 1; string 1 open: E4, degree 3."
    )
