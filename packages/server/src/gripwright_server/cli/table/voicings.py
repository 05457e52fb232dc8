"""The table of voicings: neck diagrams side by side, each over its degrees and pitches."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gripwright_server.cli.table.boxes import box_lines
from gripwright_server.cli.table.columns import aligned
from gripwright_server.operations.player import played

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright import Chord
    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.voicings import VoicingsResult


def lines(result: VoicingsResult, screen: Screen) -> Iterator[str]:
    """The chord, the instrument, the diagrams and how to see more.

    Args:
        result: The voicings.
        screen: Gives the width; as many diagrams stand side by side as fit.
    """
    yield from chord_lines(result.chord, screen)
    noun = "voicing" if result.count == 1 else "voicings"
    yield f"{result.count:,} {noun} on {played(result.instrument)}"
    families = [row.families for row in result.rows()]
    yield from box_lines(list(result.shown), families, screen)
    yield ""
    yield screen.faint(_foot(result))


def chord_lines(chord: Chord, screen: Screen) -> Iterator[str]:
    """The symbol with its notes over its degrees."""
    notes, degrees = aligned(tuple(map(str, chord.notes)), tuple(map(str, chord.degrees)))
    margin = len(chord.symbol) + 2
    bass = f"  over {chord.bass}" if chord.bass else ""
    yield f"{screen.strong(chord.symbol)}  {notes}{bass}"
    yield " " * margin + degrees


def _foot(result: VoicingsResult) -> str:
    if result.returned == result.count:
        return "All are shown. For programs: --format json, ndjson or csv"
    if result.diverse:
        return "Those that differ most are shown. More: --limit N; in order: without --diverse"
    return (
        f"The first {result.returned} are shown. More: --limit N or --all;"
        " another order: --order ease"
    )
