"""The plan of the day on the screen."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final

from gripwright_server.cli.table.boxes import box_lines
from gripwright_server.cli.table.steps import wrapped
from gripwright_server.operations.vocabulary.handle import handle_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from gripwright.vocabulary import Block
    from gripwright_server.cli.screen import Screen
    from gripwright_server.operations.vocabulary.today import TodayResult

_LEFT: Final = 8
_LEAST: Final = 24


def lines(result: TodayResult, screen: Screen) -> Iterator[str]:
    """One part of the day after the other, with its minutes on the left.

    Args:
        result: The plan.
        screen: Gives the width.
    """
    plan = result.plan
    yield screen.strong(f"{plan.day:%A}, {plan.day.day} {plan.day:%B %Y}: {plan.minutes} minutes")
    asked = False
    for block in plan.blocks:
        yield ""
        again = ", again" if block.again else ""
        head = f"{block.kind[:1].upper()}{block.kind[1:]}{again}"
        yield screen.strong(f"{block.minutes:>3} min  {head}")
        if block.again:
            continue
        yield from _told(block, screen)
        if block.kind == "review" and not asked:
            asked = True
            yield from _questions(result, screen)
        if block.kind == "new grip" and plan.new is not None:
            for line in box_lines(plan.new.context.grips, _symbols(result), screen):
                yield f"{' ' * _LEFT}{line}" if line else ""
    if plan.paused is not None:
        yield ""
        yield from wrapped(_capital(plan.paused), screen)
    yield ""
    for caution in plan.cautions:
        yield from (screen.faint(line) for line in wrapped(caution, screen))
    yield ""
    if plan.new is not None:
        yield screen.faint("When the new grip is learned: gripwright vocabulary learn")
    yield screen.faint("On paper, with the answers overleaf: -o plan.pdf")


def _told(block: Block, screen: Screen) -> Iterator[str]:
    for line in block.lines:
        yield from _indented(_capital(line), screen)


def _questions(result: TodayResult, screen: Screen) -> Iterator[str]:
    for prompt in result.plan.prompts:
        yield from _indented(f"{handle_of(prompt.entry_id)}  {prompt.text}", screen, more=_LEFT)
    if result.plan.prompts:
        first = handle_of(result.plan.prompts[0].entry_id)
        for line in _indented(f"Check: gripwright vocabulary answer {first} ANSWER", screen):
            yield screen.faint(line)
        for line in _indented(
            f"Then: gripwright vocabulary review {first} --grade looked|slowly|in-time|any-key",
            screen,
        ):
            yield screen.faint(line)


def _symbols(result: TodayResult) -> list[tuple[str, ...]]:
    new = result.plan.new
    return [] if new is None else [(str(grip.chord),) for grip in new.context.grips]


def _indented(text: str, screen: Screen, more: int = 0) -> list[str]:
    margin = " " * _LEFT
    return textwrap.wrap(
        text,
        max(screen.width, _LEAST + _LEFT),
        initial_indent=margin,
        subsequent_indent=margin + " " * more,
        break_on_hyphens=False,
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
