"""The instrument."""

from typing import Final

import attrs

from gripwright import Instrument

CIGAR_BOX: Final = attrs.evolve(
    Instrument.from_text("G2 D3 G3", frets=18, scale_mm=635.0, id="cigar-box"),
    name="cigar-box guitar, open G",
)
"""Root, fifth and octave (common practice; length and frets from memory of usual makes)."""
