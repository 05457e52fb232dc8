"""The table of voicings: neck diagrams side by side, each over its degrees and pitches."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright.neck.diagram import box, box_frets, box_width, under_strings
from gripwright_server.cli.table.columns import aligned

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from gripwright import Instrument, Voicing
    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.voicings import VoicingsResult

_MARGIN: Final = "   "
_MOST_SPACE: Final = 3


def lines(result: VoicingsResult, screen: Screen) -> Iterator[str]:
    """The chord, the instrument, the diagrams and how to see more.

    Args:
        result: The voicings.
        screen: Gives the width; as many diagrams stand side by side as fit.
    """
    shown = list(result.shown)
    yield from _head(result, screen)
    notes = [_notes(voicing) for voicing in shown]
    # A cell begins with a margin, into which a long text of the one before may reach by one.
    longest = max(len(line) for under in notes for line in under)
    widest = max(longest, box_width(result.instrument))
    width = max(longest - 1, box_width(result.instrument) + 1)
    across = 1 + max(0, screen.width - widest) // width
    if across > 1:
        width = min(width + _MOST_SPACE, max(width, (screen.width - widest) // (across - 1)))
    for start in range(0, len(shown), across):
        yield ""
        group = slice(start, start + across)
        yield from _side_by_side(shown[group], notes[group], width)
    yield ""
    yield screen.faint(_foot(result))


def _head(result: VoicingsResult, screen: Screen) -> Iterator[str]:
    chord = result.chord
    notes, degrees = aligned(tuple(map(str, chord.notes)), tuple(map(str, chord.degrees)))
    margin = len(chord.symbol) + 2
    bass = f"  over {chord.bass}" if chord.bass else ""
    yield f"{screen.strong(chord.symbol)}  {notes}{bass}"
    yield " " * margin + degrees
    noun = "voicing" if result.count == 1 else "voicings"
    yield f"{result.count:,} {noun} on {played(result.instrument)}"


def played(instrument: Instrument) -> str:
    """The instrument in words, with its open strings.

    Args:
        instrument: The instrument, with its capo.

    Example:
        >>> from gripwright import Instrument
        >>> played(Instrument.from_text("G4 C4 E4 A4"))
        'strings G4 C4 E4 A4'
    """
    strings = " ".join(str(string.open) for string in instrument.strings)
    return instrument.name if strings in instrument.name else f"{instrument.name} ({strings})"


def _notes(voicing: Voicing) -> tuple[str, str]:
    """The lines under a diagram: degrees and pitches."""
    return (
        under_strings(voicing, map(str, voicing.degrees)),
        under_strings(voicing, map(str, voicing.pitches)),
    )


def _side_by_side(
    voicings: Sequence[Voicing], notes: Sequence[tuple[str, str]], width: int
) -> Iterator[str]:
    """Draw diagrams of one height beside one another."""
    frets = max(map(box_frets, voicings))
    cells = [
        (f"{_MARGIN}{voicing.shape}", *box(voicing, frets=frets), *under)
        for voicing, under in zip(voicings, notes, strict=True)
    ]
    for parts in zip(*cells, strict=True):
        line = ""
        for place, part in enumerate(parts):
            line = line.ljust(place * width)
            line += part[len(line) - place * width :]
        yield line


def _foot(result: VoicingsResult) -> str:
    if result.returned == result.count:
        return "All are shown. For programs: --format json, ndjson or csv"
    return (
        f"The first {result.returned} are shown. More: --limit N or --all;"
        " another order: --order ease"
    )
