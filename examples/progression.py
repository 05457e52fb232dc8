"""A progression from a script: the smoothest line of grips, played on two and four, as files.

    python progression.py FOLDER

writes the drill as MIDI, as MusicXML and as the score's own JSON.
"""

import sys
from pathlib import Path

from gripwright import Chart, RhythmPattern, lead, load_registry
from gripwright_rhythm import Click, make_drill

CHANGES = """
key: Bb
[A]
| Cm9 | F13 | Bbmaj9 | Gm7 |
"""


def main(folder: Path) -> None:
    """Write the files."""
    registry = load_registry()
    line = lead(Chart.parse(CHANGES), registry.instruments["guitar"], max_notes=4)
    pattern = RhythmPattern.parse("2' 4'", name="back-beat")
    score = make_drill(line, pattern, Click.parse("2 4"), tempo_bpm=96, choruses=2)
    for name in ("midi", "musicxml", "json"):
        exporter = registry.exporters[name]
        path = folder / f"progression{exporter.suffixes[0]}"
        path.write_bytes(exporter.export(score))
        print(path.name)


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "."))
