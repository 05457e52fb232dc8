"""Instruments as plain records, of what JSON holds alone."""

from __future__ import annotations

from typing import Any

from gripwright.neck.instrument import Instrument


def instrument_record(instrument: Instrument) -> dict[str, Any]:
    """An instrument whole, so that a document needs no plugin to be read.

    Example:
        >>> record = instrument_record(Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345))
        >>> record["strings"][0]
        {'open': 'G4', 'scale_mm': 345.0, 'first_fret': 0, 'doubles': []}
    """
    return {
        "id": instrument.id,
        "name": instrument.name,
        "frets": instrument.frets,
        "align_fret": instrument.align_fret,
        "capo": instrument.capo,
        "strings": [
            {
                "open": str(string.open),
                "scale_mm": string.scale_mm,
                "first_fret": string.first_fret,
                "doubles": [str(pitch) for pitch in string.doubles],
            }
            for string in instrument.strings
        ],
    }
