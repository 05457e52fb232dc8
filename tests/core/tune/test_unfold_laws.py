"""Unfolding against a literal walk: charts built from blocks whose order is known beforehand."""

from __future__ import annotations

from fractions import Fraction

import attrs
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chart, Chord
from gripwright.laws.drawing import charts


@attrs.frozen
class Block:
    """Some bars as text, and the numbers of the bars in the order in which they are played.

    Args:
        words: What stands in the line for each bar, bar line included.
        full: The bars as played, repeats taken.
        once: The bars on the way back: no repeats, the last ending.
        close: What ends the block.
    """

    words: tuple[str, ...]
    full: tuple[int, ...]
    once: tuple[int, ...]
    close: str = "|"


@st.composite
def blocks(draw: st.DrawFn) -> list[Block]:
    """Blocks that follow each other, their bars numbered through."""
    result: list[Block] = []
    at = 0
    for _ in range(draw(st.integers(1, 5))):
        kind = draw(st.sampled_from(["plain", "repeat", "vamp", "endings"]))
        size = draw(st.integers(1, 3))
        body = tuple(range(at, at + size))
        at += size
        bars = tuple("| C" for _ in body[1:])
        if kind == "plain":
            result.append(Block(("| C", *bars), body, body))
        elif kind == "repeat":
            times = draw(st.integers(2, 5))
            close = ":|" if times == 2 else f":| x{times}"
            result.append(Block(("|: C", *bars), body * times, body, close))
        elif kind == "vamp":
            # Three times, which is what the tests ask for.
            result.append(Block(("|: C", *bars), body * 3, body, ":| open"))
        else:
            passes = draw(st.sampled_from([((1,), (2,)), ((1, 2), (3,)), ((1,), (2,), (3,))]))
            words: list[str] = ["|: C", *bars]
            ending_of: dict[int, tuple[int, ...]] = {}
            for number, group in enumerate(passes):
                length = draw(st.integers(1, 2))
                sign = ("|" if number == 0 else ":|") + ",".join(map(str, group)) + "."
                words += [f"{sign} C", *("| C" for _ in range(length - 1))]
                ending_of |= dict.fromkeys(group, tuple(range(at, at + length)))
                at += length
            full = tuple(bar for number in sorted(ending_of) for bar in body + ending_of[number])
            once = body + ending_of[max(ending_of)]
            result.append(Block(tuple(words), full, once))
    return result


def text_of(parts: list[Block]) -> str:
    """The blocks as one line a block."""
    return "\n".join(" ".join((*part.words, part.close)) for part in parts)


def order_of(text: str) -> list[int]:
    """The indices of the bars as unfolded."""
    return [bar.index for bar in Chart.parse(text).unfolded(open_times=3).bars]


@given(blocks())
def test_repeats_and_endings_agree_with_a_literal_walk(parts: list[Block]) -> None:
    """Each block is played as often as it says, with the right ending."""
    assert order_of(text_of(parts)) == [bar for part in parts for bar in part.full]


@given(blocks(), blocks(), st.sampled_from(["D.C.", "D.C. al Fine"]))
def test_da_capo_al_fine_agrees_with_a_literal_walk(
    first: list[Block], second: list[Block], jump: str
) -> None:
    """All with repeats; then from the start without them as far as Fine."""
    text = f"{text_of(first)}\n| F Fine |\n{text_of(second)}\n| G {jump} |"
    count = sum(len(part.words) for part in first)
    full = [bar for part in first for bar in part.full] + [count]
    rest = [bar + count + 1 for part in second for bar in part.full]
    last = count + 1 + sum(len(part.words) for part in second)
    once = [bar for part in first for bar in part.once] + [count]
    assert order_of(text) == [*full, *rest, last, *once]


@given(blocks(), blocks(), blocks(), blocks())
def test_dal_segno_al_coda_agrees_with_a_literal_walk(
    intro: list[Block], verse: list[Block], bridge: list[Block], coda: list[Block]
) -> None:
    """From the segno without repeats to the sign, then the coda with its own."""
    text = (
        f"{text_of(intro)}\n| C Segno |\n{text_of(verse)}\n| F To Coda |\n"
        f"{text_of(bridge)}\n| G D.S. al Coda |\n[Coda] | C |\n{text_of(coda)}"
    )
    order: list[int] = []
    replay: list[int] = []
    at = 0
    for parts, mark in ((intro, "segno"), (verse, "to coda"), (bridge, "jump")):
        order += [bar + at for part in parts for bar in part.full]
        if mark == "to coda":
            replay += [bar + at for part in parts for bar in part.once]
        at += sum(len(part.words) for part in parts)
        order.append(at)
        if mark in {"segno", "to coda"}:
            replay.append(at)
        at += 1
    tail = [at, *(bar + at + 1 for part in coda for bar in part.full)]
    assert order_of(text) == [*order, *replay, *tail]


@given(charts())
def test_a_form_is_filled_without_a_gap(chart: Chart[Chord]) -> None:
    """Bars and spans each follow one another from the start of the form to its end."""
    form = chart.unfolded()
    for parts in (form.bars, form.spans):
        place = Fraction(0)
        for part in parts:
            assert part.onset == place
            assert part.length > 0
            place += part.length
        assert place == form.length


@given(charts())
def test_each_span_starts_where_its_chord_is_written(chart: Chart[Chord]) -> None:
    """Every chord of every played bar is a span, at its place, and there are no others."""
    form = chart.unfolded()
    expected = [
        (bar.onset + slot.onset, slot.symbol, slot.held, index)
        for index, bar in enumerate(form.bars)
        for slot in chart.written[bar.index].slots
    ]
    assert [(span.onset, span.symbol, span.held, span.bar) for span in form.spans] == expected


@given(charts())
def test_hits_attack_the_chord_that_sounds_or_the_next(chart: Chart[Chord]) -> None:
    """A hit lies in its span; a push lies before it, and in the span before."""
    form = chart.unfolded()
    for hit in form.hits:
        span = form.spans[hit.span]
        assert span.symbol is not None
        before = form.spans[hit.span - 1] if hit.push else span
        assert before.onset <= hit.onset < before.end
