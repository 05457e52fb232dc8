"""The explanation of a shape: its diagram, what is so with it, and what to play instead."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.boxes import box_lines
from gripwright_server.cli.table.voicings import chord_lines
from gripwright_server.operations.player import played

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.explain import ExplainResult

_INVERSIONS: Final = {"root": "root position", "foreign": "foreign bass"}


def lines(result: ExplainResult, screen: Screen) -> Iterator[str]:
    """The chord, the shape, the reasons for or against it, and the nearest voicings.

    Args:
        result: What is so with the shape.
        screen: Gives the width.
    """
    voicing = result.voicing
    be = "a" if result.playable else "no"
    yield from chord_lines(voicing.chord, screen)
    yield f"{voicing.shape} on {played(voicing.instrument)}"
    yield from box_lines([voicing], [()], screen)
    yield ""
    yield screen.strong(f"This is {be} playable voicing of {voicing.chord}:")
    for sentence in _merits(result) if result.playable else _faults(result):
        yield from _item(sentence, screen)
    if result.instead:
        yield ""
        yield "Instead:"
        families = [other.families for other in result.instead]
        yield from box_lines(result.instead, families, screen)


def _faults(result: ExplainResult) -> Iterator[str]:
    for fault in result.diagnosis.faults:
        yield fault.sentence


def _merits(result: ExplainResult) -> Iterator[str]:
    voicing = result.voicing
    inversion = voicing.inversion
    yield _INVERSIONS.get(inversion, f"{inversion} inversion")
    if result.families:
        yield f"families: {', '.join(result.families)}"
    if voicing.left_out:
        yield f"left out: {' '.join(voicing.left_out)}"
    if result.fingering_in_words:
        yield f"fingering: {result.fingering_in_words}"


def _item(sentence: str, screen: Screen) -> Iterator[str]:
    """One item of a list, wrapped to the screen."""
    yield from textwrap.wrap(
        sentence, max(screen.width, 20), initial_indent="- ", subsequent_indent="  "
    )
