"""Voicing search in somebody else's program: the ten easiest grips of a chord, in ten lines."""

import sys

from gripwright import Chord, Instrument, find_voicings, ranking

symbol = sys.argv[1] if len(sys.argv) > 1 else "Cmaj9"
guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=22, scale_mm=648.0)
table = find_voicings(Chord.parse(symbol), guitar, max_notes=4)
for grip in table.order_by(ranking.ease)[:10]:
    print(grip.shape, " ".join(map(str, grip.pitches)), " ".join(grip.degrees))
