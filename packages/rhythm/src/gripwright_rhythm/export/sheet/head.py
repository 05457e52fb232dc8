"""The head of a sheet: what is played, in which key, how fast, by which rhythm and click."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright import diagram
from gripwright_rhythm.export.sheet.face import cut, fitted, readable, text_width
from gripwright_rhythm.export.sheet.signs import key_words

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from gripwright import Chorus, Score
    from gripwright.meter import Meter
    from gripwright_rhythm.export.sheet.colours import Colours
    from gripwright_rhythm.export.sheet.paper import Paper

HEAD: Final = 60.0
"""Height of the head of a first page."""

SHORT_HEAD: Final = 26.0
"""Height of the head of a page that goes on."""

UNTITLED: Final = "Practice sheet"

_TITLE: Final = 20.0
_TEMPO: Final = 15.0
_FACTS: Final = 9.0
_WORDS: Final = 9.5
_LEAST: Final = 6.5
_BETWEEN: Final = "  \u00b7  "
_NOTES: Final = {2: "half note", 4: "\u2669", 8: "\u266a"}


def title_of(score: Score) -> str:
    """The title, or what stands where there is none."""
    return readable(score.title or "") or UNTITLED


def drawn_head(score: Score, remark: str, paper: Paper, colours: Colours) -> Iterator[diagram.Mark]:
    """Draw the head of a first page.

    Args:
        score: The score.
        remark: What stands after the title.
        paper: The paper.
        colours: The colours.
    """
    x, y = paper.margin, paper.margin
    tempo = tempo_sign(score)
    wide = text_width(tempo, _TEMPO, bold=True)
    yield diagram.Words(paper.right, y + 10, tempo, _TEMPO, colours.ink, "end", bold=True)
    yield from _title(score, remark, paper.room - wide - 12, at=(x, y + 10), colours=colours)
    rhythm = readable(f"Rhythm: {score.rhythm}") if score.rhythm else "Rhythm: as the chart says"
    click = readable(f"Click: {score.click}") if score.click else "Click: none"
    rows = (
        (_BETWEEN.join(facts_of(score)), _FACTS, 27.0, False),
        (rhythm, _WORDS, 39.0, True),
        (click, _WORDS, 51.0, True),
    )
    for text, most, down, bold in rows:
        size = fitted(text, paper.room, most, _LEAST, bold=bold)
        shown = cut(text, paper.room, size, bold=bold)
        yield diagram.Words(x, y + down, shown, size, colours.ink, "start", bold=bold)


def drawn_short_head(
    score: Score, remark: str, paper: Paper, colours: Colours
) -> Iterator[diagram.Mark]:
    """Draw the head of a page that goes on.

    Args:
        score: The score.
        remark: What stands after the title, such as the number of the page.
        paper: The paper.
        colours: The colours.
    """
    yield from _title(
        score,
        remark,
        paper.room,
        at=(paper.margin, paper.margin + 8),
        colours=colours,
        small=0.7,
    )


def _title(
    score: Score,
    remark: str,
    room: float,
    *,
    at: tuple[float, float],
    colours: Colours,
    small: float = 1.0,
) -> Iterator[diagram.Mark]:
    x, y = at
    text = title_of(score)
    beside = text_width(remark, _FACTS) + 10 if remark else 0.0
    size = fitted(text, room - beside, _TITLE * small, 9.0, bold=True)
    shown = cut(text, room - beside, size, bold=True)
    yield diagram.Words(x, y, shown, size, colours.ink, "start", bold=True)
    if remark:
        after = x + text_width(shown, size, bold=True) + 10
        yield diagram.Words(after, y + size * 0.1, remark, _FACTS, colours.faint, "start")


def tempo_sign(score: Score) -> str:
    """The tempo as a note and beats a minute; several, where choruses differ.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> tempo_sign(sample_score())
        '\u2669 = 60'
    """
    played = _played(score)
    meter = next((bar.meter for bar in score.bars if bar.chorus), score.bars[0].meter)
    tempos = list(dict.fromkeys(one.tempo_bpm for one in played))
    numbers = _number(tempos[0])
    if len(tempos) > 1:
        numbers += f" to {_number(tempos[-1])}"
    return f"{_pulse(meter)} = {numbers}"


def facts_of(score: Score) -> list[str]:
    """Key, metre, swing, choruses, count-in, instrument and what sounds beside the chords."""
    played = _played(score)
    meters = dict.fromkeys(str(bar.meter) for bar in score.bars if bar.chorus)
    keys = dict.fromkeys(key_words(one.key) for one in played if one.key is not None)
    swings = dict.fromkeys(one.swing for one in played)
    count_in = sum(bar.chorus == 0 for bar in score.bars)
    beside = [name for name, notes in (("bass", score.bass), ("root", score.root)) if notes]
    facts = [
        f"Key {', '.join(keys)}" if keys else "",
        ", ".join(meters),
        *(f"swing {_number(one)} : 1" for one in swings if one != 1),
        "1 chorus" if len(played) == 1 else f"{len(played)} choruses",
        f"count-in {'1 bar' if count_in == 1 else f'{count_in} bars'}" if count_in else "",
        readable(score.instrument.name),
        f"with {' and '.join(beside)} beneath" if beside else "",
    ]
    return [fact for fact in facts if fact]


def _played(score: Score) -> list[Chorus]:
    return [chorus for chorus in score.choruses if chorus.number > 0] or list(score.choruses)


def _pulse(meter: Meter) -> str:
    if meter.compound:
        return f"{_NOTES.get(meter.unit // 2, 'beat')}." if meter.unit == 8 else "beat"  # noqa: PLR2004 - eighths in threes
    return _NOTES.get(meter.unit, "beat")


def _number(value: Fraction) -> str:
    return f"{float(value):.2f}".rstrip("0").rstrip(".")
