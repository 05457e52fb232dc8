"""Speed of the exporters, as ratios against rivals measured in the same run.

Run from the root of the repository::

    python -m tests.benchmarks.bench_export

The score is ten choruses of a 32-bar form, four chords to the bar, with clicks on all beats. The
rival of MIDI and MusicXML is music21 (BSD), given the same notes as its own chords in its own
measures; only its writing is timed, not the making of its objects. The rival of WAV is the clock:
how much of the score's own time it takes to write it. Times are the processor's, the least of
several, rival and own in turn. Length counts 1, 10 and 100 choruses. Nothing is asserted: the
targets stand beside what was measured.
"""

from __future__ import annotations

import gc
import math
import tempfile
import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import music21

from gripwright import Chart, Line, RhythmPattern, Score, lead, load_registry
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill import make_drill
from gripwright_rhythm.export.csv_events import CsvExporter
from gripwright_rhythm.export.midi import MidiExporter
from gripwright_rhythm.export.musicxml import MusicXmlExporter
from gripwright_rhythm.export.tablature import TextExporter
from gripwright_rhythm.export.wav import WavExporter
from tests.benchmarks.bench_search import row

if TYPE_CHECKING:
    from gripwright.plugins import Exporter

EIGHT: Final = "| Cmaj7 A7 | Dm7 G7 | Em7 A7 | Dm7 G7 | Gm7 C7 | Fmaj7 F#dim7 | Cmaj7 A7 | Dm7 G7 |"
BRIDGE: Final = "| E7 | % | A7 | % | D7 | % | G7 | % |"
FORM: Final = f"{EIGHT}\n{EIGHT}\n{BRIDGE}\n{EIGHT}"
CHORUSES: Final = 10
LENGTHS: Final = (1, 10, 100)
ROUNDS: Final = 3


def least_seconds(work: Callable[[], object], repeats: int) -> float:
    """Return the processor's seconds of the shortest of several runs."""
    times = []
    for _ in range(repeats):
        gc.collect()
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def line() -> Line:
    """Return the grips of the form."""
    guitar = load_registry().instruments["guitar"]
    return lead(Chart.parse(FORM), guitar, max_notes=4, candidates=100)


def drill(grips: Line, choruses: int, *, tempo_bpm: int = 120) -> Score:
    """Return so many choruses, four attacks to the bar."""
    pattern = RhythmPattern.parse("1 2' 3 4'")
    return make_drill(grips, pattern, Click(), tempo_bpm=tempo_bpm, choruses=choruses)


def rival(score: Score) -> Any:  # noqa: ANN401 - music21 has no types
    """Return the chords of a score as a part of music21, in measures, with rests between."""
    part = music21.stream.Part()
    part.append(music21.meter.TimeSignature("4/4"))
    part.append(music21.tempo.MetronomeMark(number=float(score.choruses[-1].tempo_bpm)))
    place = score.start
    for event in score.events:
        if event.onset > place:
            part.append(music21.note.Rest(quarterLength=Fraction(event.onset - place)))
        chord = music21.chord.Chord(list(event.voicing.midi), quarterLength=event.length)
        chord.volume.velocity = event.dynamic
        part.append(chord)
        place = event.end
    return part.makeMeasures()


def notes_in(part: Any) -> int:  # noqa: ANN401 - the same
    """Return how many notes a part of music21 holds."""
    return sum(len(chord.pitches) for chord in part.recurse().getElementsByClass("Chord"))


def main() -> None:
    """Measure and print."""
    grips = line()
    score = drill(grips, CHORUSES)
    part = rival(score)
    assert notes_in(part) == sum(len(event.voicing.midi) for event in score.events)
    row(f"{CHORUSES} choruses of 32 bars: {len(score.events)} chords", "", "")
    with tempfile.TemporaryDirectory() as folder:
        notations: tuple[tuple[Exporter, str], ...] = (
            (MidiExporter(), "midi"),
            (MusicXmlExporter(), "musicxml"),
        )
        for exporter, form in notations:
            target = Path(folder) / form
            against_music21(score, exporter, lambda: part.write(form, target))  # noqa: B023 - called in this turn
    against_the_clock(drill(grips, CHORUSES))
    for exporter in (
        MidiExporter(),
        CsvExporter(),
        TextExporter(),
        MusicXmlExporter(),
        WavExporter(),
    ):
        linear(grips, exporter)


def against_music21(score: Score, exporter: Exporter, write: Callable[[], object]) -> None:
    """Print how many times faster an exporter is than music21 with the same notes."""
    own = other = math.inf
    for _ in range(ROUNDS):
        other = min(other, least_seconds(write, repeats=1))
        own = min(own, least_seconds(lambda: exporter.export(score), repeats=5))
    row(f"{exporter.name}", f"{own * 1000:.1f} ms", "")
    row("  music21 writes the same notes", f"{other * 1000:.0f} ms", "")
    row("  music21 / own", f"{other / own:.1f} times", ">= 20")


def against_the_clock(score: Score) -> None:
    """Print how much faster than real time the sound is written."""
    seconds = least_seconds(lambda: WavExporter().export(score), repeats=ROUNDS)
    sounding = float(score.seconds)
    row(f"wav: {sounding:.0f} s of sound", f"{seconds:.2f} s", "")
    row("  real time / own", f"{sounding / seconds:.0f} times", ">= 30")


def linear(grips: Line, exporter: Exporter) -> None:
    """Print the time of a chorus among 1, 10 and 100 of them, as ratios to that among 10."""
    times = {}
    for choruses in LENGTHS:
        # The sound is kept short: at 400 beats a minute a chorus lasts 19 seconds.
        score = drill(grips, choruses, tempo_bpm=400 if exporter.name == "wav" else 120)
        if choruses == LENGTHS[0]:
            exporter.export(score)
        repeats = 1 if choruses == LENGTHS[-1] else 3
        times[choruses] = least_seconds(lambda: exporter.export(score), repeats) / choruses  # noqa: B023 - called in this turn
    ratios = "  ".join(f"{times[one] / times[CHORUSES]:.2f}" for one in LENGTHS)
    row(f"{exporter.name}: a chorus among 1, 10, 100 of them", ratios, "about 1 from 10 to 100")


if __name__ == "__main__":
    main()
