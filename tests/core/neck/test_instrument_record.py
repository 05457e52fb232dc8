"""Instruments as plain records: whatever an instrument is, JSON holds it."""

import json

from gripwright import Instrument, InstrumentString, Pitch
from gripwright.neck.instrument_record import instrument_record


def test_a_record_says_all_that_the_instrument_is() -> None:
    """A short string, courses, a fan and a capo: every part is told, and JSON gives it back."""
    own = Instrument(
        id="own",
        name="my own",
        strings=(
            InstrumentString(Pitch.parse("G4"), 640.0, first_fret=5),
            InstrumentString(Pitch.parse("Bb2"), 655.5, doubles=(Pitch.parse("Bb3"),)),
        ),
        frets=17,
        align_fret=7.5,
        capo=2,
    )
    assert json.loads(json.dumps(instrument_record(own))) == {
        "id": "own",
        "name": "my own",
        "frets": 17,
        "align_fret": 7.5,
        "capo": 2,
        "strings": [
            {"open": "G4", "scale_mm": 640.0, "first_fret": 5, "doubles": []},
            {"open": "Bb2", "scale_mm": 655.5, "first_fret": 0, "doubles": ["Bb3"]},
        ],
    }
