"""Forms and instruments that the tests of sheets share; all of them invented here."""

import attrs

from gripwright import Chart, Chord, Instrument, RhythmPattern, Score, lead
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill import make_drill

GUITAR = attrs.evolve(Instrument.from_text("E2 A2 D3 G3 B3 E4", id="guitar"), name="Guitar")
EIGHT = attrs.evolve(
    Instrument.from_text("F#1 B1 E2 A2 D3 G3 B3 E4", id="eight"), name="Eight strings"
)

# The form of thirty-two bars in four sections and the blues are common property.
THIRTY_TWO = """title: Thirty-two bars
key: F
[A]
| Fmaj7 | Gm7 C7 | Am7 D7 | Gm7 C7 |
| Cm7 F7 | Bbmaj7 Bbm6 | Am7 D7 | Gm7 C7 |
[A]
| Fmaj7 | Gm7 C7 | Am7 D7 | Gm7 C7 |
| Cm7 F7 | Bbmaj7 Bbm6 | Gm7 C7 | F6 |
[B]
| Cm7 | F7 | Bbmaj7 | % |
| Dm7 | G7 | Gm7 | C7 |
[A]
| Fmaj7 | Gm7 C7 | Am7 D7 | Gm7 C7 |
| Cm7 F7 | Bbmaj7 Bbm6 | Gm7 C7 | F6 |"""

BLUES = """title: Blues in B flat
key: Bb
| Bb7 | Eb7 | Bb7 | Fm7 Bb7 |
| Eb7 | Edim7 | Bb7 | G7 |
| Cm7 | F7 | Bb7 G7 | Cm7 F7 |"""

WALTZ = """title: Waltz
key: D
metre: 3/4
| Dmaj7 | Bm7 | Em7 | A7 |
| F#m7 | B7b9 | Em7 | A7sus4 |"""

SIX = """title: Six
key: Am
metre: 6/8
| Am7 | Dm7 | G7 | Cmaj7 Fmaj7 |
| Bm7b5 | E7b9 | Am6 | % |"""

FIVE = """title: Five
key: Em
metre: 5/4
| Em9 Am7 | Em9 B7 | Cmaj7 Am7 | F#m7b5 B7b9 |"""

PICKUP = """title: With a pickup
key: G
pickup: 1
| D7 |
[A]
| Gmaj7 | C7 | Bm7 E7 | Am7 D7 |
[B]
| Gmaj7 | Em7 | Am7 | D7 |"""

DENSE = """title: Four chords a bar
key: Gb
| Gbmaj7 Ebm7 Abm7 Db7 | Bbm7b5 Eb7b9 Abm7 Db7b9 | Cbmaj7 Cbm6 Bbm7 Eb7 | Abm7 Db7 Gb6 Db7 |"""

ODD = """title: Sections of odd lengths
key: C
[A]
| Cmaj7 | Am7 | Dm7 | G7 | Em7 |
[B]
| Cmaj7 | Am7 | 3/4 Dm7 | G7 | Em7 | A7 |
[A]
| Cmaj7 | Am7 | Dm7 | G7 | Em7 |
[Bridge]
| Cmaj7 | Am7 | Dm7 | G7 | N.C. | A7 |
| Cmaj7 | Am7 | Dm7 | G7 | Em7 | A7 |
[Coda]
| Dm7 | G7 | C6 | % |"""


def drill(
    text: str | Chart[Chord],
    pattern: str = "1",
    click: str = "all",
    *,
    on: Instrument = GUITAR,
    **settings: object,
) -> Score:
    """Play a form by a pattern, in grips without open strings."""
    chart = Chart.parse(text) if isinstance(text, str) else text
    line = lead(chart, on, min_notes=3, max_notes=4, no_open=True)
    meter = chart.meter
    rhythm = RhythmPattern.parse(pattern, meter)
    return make_drill(line, rhythm, Click.parse(click), **settings)  # type: ignore[arg-type]
