"""The plan of the day on paper: the session at a glance, each part of it, and answers overleaf."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from gripwright import diagram
from gripwright.vocabulary import GRADES, Block
from gripwright_rhythm.export.sheet.colours import Colours
from gripwright_rhythm.export.sheet.face import cut, fitted, lines_of, readable, text_width
from gripwright_rhythm.export.sheet.overview import pattern_strip
from gripwright_rhythm.export.sheet.paper import PAPERS
from gripwright_rhythm.export.sheet.pdf import pages_pdf
from gripwright_rhythm.export.sheet.strip import AXIS, STANDS_OUT, drawn_strip
from gripwright_rhythm.export.sheet.svg import pages_svg
from gripwright_server.formats.picture.vocabulary.flow import Piece, beside, flowed
from gripwright_server.formats.picture.vocabulary.grip_cell import CellStyle, grip_cell
from gripwright_server.operations.vocabulary.handle import handle_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from gripwright import Voicing
    from gripwright.vocabulary import NewGrip, Prompt
    from gripwright_rhythm.export.sheet.page import Page
    from gripwright_server.operations.vocabulary.today import TodayRequest, TodayResult

_LEFT: Final = 62.0
_TEXT: Final = 8.6
_LINE: Final = 11.0
_TITLE: Final = 20.0
_BAR: Final = 15.0
_BOX: Final = 7.0
_GRADE: Final = 48.0
_HANDLE: Final = 38.0
_ROW: Final = 14.0
_LARGE: Final = 0.74
_SMALL: Final = 0.5
_ACROSS: Final = 4
_ACROSS_SMALL: Final = 6
_ANSWERS_ACROSS: Final = 5
_STRIP: Final = 11.0
_WIDEST_STRIP: Final = 260.0


def picture(request: TodayRequest, result: TodayResult) -> str:
    """The pages as SVG, one under the other.

    Args:
        request: Says how they look.
        result: The plan.
    """
    return pages_svg(plan_pages(request, result)).decode("ascii")


def document(request: TodayRequest, result: TodayResult) -> bytes:
    """The pages as PDF.

    Args:
        request: Says how they look.
        result: The plan.
    """
    return pages_pdf(plan_pages(request, result))


def plan_pages(request: TodayRequest, result: TodayResult) -> tuple[Page, ...]:
    """The pages of the plan; what is asked for is answered on the last ones.

    Args:
        request: Says how they look.
        result: The plan.
    """
    sheet = _Sheet(request, result)
    plan = result.plan
    parts = ", ".join(f"{block.minutes} minutes of {block.kind}" for block in plan.blocks)
    return flowed(
        sheet.pieces(),
        title=f"Practice on {sheet.day}",
        description=f"A plan of {plan.minutes} minutes: {parts}.",
        paper=PAPERS[request.paper],
        colours=sheet.colours,
    )


class _Sheet:
    """The pieces of a plan."""

    def __init__(self, request: TodayRequest, result: TodayResult) -> None:
        self.result: Final = result
        self.colours: Final = Colours.of(request.theme)
        self.room: Final = PAPERS[request.paper].room
        day = result.plan.day
        self.day: Final = f"{day:%A}, {day.day} {day:%B %Y}"
        self._label: Final = request.label

    def pieces(self) -> Iterator[Piece]:
        plan = self.result.plan
        yield Piece(self._head())
        for block in plan.blocks:
            yield from self._block(block)
        if plan.paused is not None:
            yield self._words([_capital(plan.paused)], bold=False)
        yield self._words(plan.cautions, bold=False, colour=self.colours.faint)
        yield from self._answers(plan.prompts)

    def _head(self) -> diagram.Picture:
        """The day, and the session as a bar of time."""
        plan, ink = self.result.plan, self.colours.ink
        minutes = f"{plan.minutes} minutes"
        marks: list[diagram.Mark] = [
            diagram.Words(0, 11, self.day, _TITLE, ink, "start", bold=True),
            diagram.Words(self.room, 11, minutes, 13.0, ink, "end", bold=True),
        ]
        x, scale = 0.0, self.room / plan.minutes
        for block in plan.blocks:
            wide = block.minutes * scale
            fill = self.colours.ground if block.kind == "break" else self.colours.long
            middle = (x + wide / 2, 34.0)
            marks.append(
                diagram.Block(*middle, wide, _BAR, fill, self.colours.ink, 0.8, corner=0.0)
            )
            for text in (f"{block.kind} {block.minutes}", str(block.minutes)):
                if text_width(text, 7.5) < wide - 4:
                    marks.append(diagram.Words(*middle, text, 7.5, ink))
                    break
            x += wide
        return diagram.Picture(self.room, 52.0, tuple(marks))

    def _block(self, block: Block) -> Iterator[Piece]:
        plan = self.result.plan
        lines: Sequence[str] = () if block.again else block.lines
        if block.kind == "new grip" and plan.new is not None and not block.again:
            # The pictures below show what the other lines say.
            lines = _about(plan.new)
        if block.kind == "tune" and plan.passage is not None and not block.again:
            lines = _about_tune(self.result)
        followed = not block.again and block.kind in {"review", "new grip", "tune", "ladder"}
        yield Piece(self._part(block, lines), joined=followed)
        if block.again:
            return
        if block.kind == "review":
            yield from self._questions(plan.prompts)
        elif block.kind == "new grip" and plan.new is not None:
            around = zip(("before", "the new grip", "after"), plan.new.context.grips, strict=True)
            yield self._grips(list(around), _LARGE, _ACROSS)
            if len(plan.new.cycle) > 1:
                yield from self._rows([("", one) for one in plan.new.cycle])
        elif block.kind == "tune":
            yield from self._tune()
        elif block.kind == "ladder":
            yield Piece(self._strip())

    def _part(self, block: Block, lines: Sequence[str]) -> diagram.Picture:
        """The minutes on the left, what to do on the right."""
        colours = self.colours
        again = "again" if block.again else ""
        marks: list[diagram.Mark] = [
            diagram.Line(0, 0, self.room, 0, 0.5, colours.ink),
            diagram.Words(0, 12, f"{block.minutes} min", 11.0, colours.ink, "start", bold=True),
            diagram.Words(0, 24, _capital(block.kind), _TEXT, colours.ink, "start", bold=True),
            diagram.Words(0, 34, again, _TEXT, colours.faint, "start"),
        ]
        y = 12.0
        for line in self._wrapped(lines):
            marks.append(diagram.Words(_LEFT, y, line, _TEXT, colours.ink, "start"))
            y += _LINE
        least = 44.0 if block.again else 34.0
        return diagram.Picture(self.room, max(y, least), tuple(marks))

    def _wrapped(self, lines: Iterable[str]) -> list[str]:
        return [
            part for line in lines for part in lines_of(readable(line), self.room - _LEFT, _TEXT)
        ]

    def _words(self, lines: Iterable[str], *, bold: bool, colour: str | None = None) -> Piece:
        y, marks = 6.0, []
        for line in self._wrapped(lines):
            words = diagram.Words(
                _LEFT, y, line, _TEXT - 1, colour or self.colours.ink, "start", bold=bold
            )
            marks.append(words)
            y += _LINE
        return Piece(diagram.Picture(self.room, y + 2, tuple(marks)))

    def _questions(self, prompts: Sequence[Prompt]) -> Iterator[Piece]:
        """A line a question, with a box for each grade."""
        colours = self.colours
        first = self.room - _GRADE * len(GRADES)
        size = min(fitted(grade.words, _GRADE - 3, 6.4, 4.0) for grade in GRADES.values())
        heads = [
            diagram.Words(
                first + (place + 0.5) * _GRADE,
                5,
                grade.words,
                size,
                colours.faint,
            )
            for place, grade in enumerate(GRADES.values())
        ]
        yield Piece(diagram.Picture(self.room, 11.0, tuple(heads)), joined=True)
        for prompt in prompts:
            room = first - _LEFT - _HANDLE - 8
            text = readable(prompt.text)
            fit = fitted(text, room, _TEXT, 6.0)
            marks: list[diagram.Mark] = [
                diagram.Words(_LEFT, 6, handle_of(prompt.entry_id), 7.0, colours.faint, "start"),
                diagram.Words(_LEFT + _HANDLE, 6, cut(text, room, fit), fit, colours.ink, "start"),
            ]
            for place in range(len(GRADES)):
                x = first + (place + 0.5) * _GRADE
                marks.append(
                    diagram.Block(x, 6, _BOX, _BOX, colours.ground, colours.ink, 0.7, corner=1.0)
                )
            marks.append(diagram.Line(_LEFT, _ROW - 1, self.room, _ROW - 1, 0.3, colours.guide))
            yield Piece(diagram.Picture(self.room, _ROW, tuple(marks)))
        yield Piece(diagram.Picture(self.room, 6.0, ()))

    def _tune(self) -> Iterator[Piece]:
        """The grips of the phrase, with their bars; or of the changes round and round."""
        plan = self.result.plan
        if plan.passage is not None:
            steps = plan.passage.line.steps
            yield from self._rows([(f"bar {step.bar}", step.voicing) for step in steps])
        elif plan.new is not None:
            yield from self._rows([("", grip) for grip in plan.new.context.grips])
        else:
            yield Piece(diagram.Picture(self.room, 2.0, ()))

    def _rows(self, grips: Sequence[tuple[str, Voicing]]) -> Iterator[Piece]:
        for start in range(0, len(grips), _ACROSS_SMALL):
            yield self._grips(grips[start : start + _ACROSS_SMALL], _SMALL, _ACROSS_SMALL)

    def _grips(self, grips: Sequence[tuple[str, Voicing]], scale: float, across: int) -> Piece:
        style = self._style(scale, (self.room - _LEFT) / across, lines=0)
        frets = max(diagram.box_frets(grip) for _, grip in grips)
        cells = [grip_cell(grip, (), style, frets=frets, above=above) for above, grip in grips]
        return Piece(beside(cells, style.width).moved(_LEFT, 0))

    def _style(self, scale: float, width: float, lines: int) -> CellStyle:
        return CellStyle(
            width=width,
            scale=scale,
            colours=self.colours,
            label=self._label,
            left_handed=self.result.profile.left_handed,
            lines=lines,
        )

    def _strip(self) -> diagram.Picture:
        """The drill of the rung as a strip of time."""
        part = self.result.part
        strip = pattern_strip(part.pattern, self.result.meter, part.click)
        scale = min(_WIDEST_STRIP, self.room - _LEFT) / float(strip.length)
        marks = tuple(
            drawn_strip(
                strip, _LEFT, STANDS_OUT + 2, scale=scale, height=_STRIP, colours=self.colours
            )
        )
        return diagram.Picture(self.room, STANDS_OUT + _STRIP + AXIS + 12, marks)

    def _answers(self, prompts: Sequence[Prompt]) -> Iterator[Piece]:
        if not prompts:
            return
        head = diagram.Words(0, 9, "Answers", 13.0, self.colours.ink, "start", bold=True)
        yield Piece(diagram.Picture(self.room, 24.0, (head,)), joined=True, new_page=True)
        style = self._style(_LARGE * 0.9, self.room / _ANSWERS_ACROSS, lines=1)
        for start in range(0, len(prompts), _ANSWERS_ACROSS):
            row = prompts[start : start + _ANSWERS_ACROSS]
            frets = max(diagram.box_frets(prompt.grip) for prompt in row)
            cells = [
                grip_cell(
                    prompt.grip,
                    (_answer(prompt),),
                    style,
                    frets=frets,
                    above=handle_of(prompt.entry_id),
                )
                for prompt in row
            ]
            yield Piece(beside(cells, style.width))


def _about(new: NewGrip) -> list[str]:
    tones = ", ".join(
        f"{note} the {degree}"
        for note, degree in zip(new.grip.notes, new.grip.degrees, strict=True)
    )
    return [
        f"{new.grip.chord}, note by note from the bass side: {tones}.",
        f"Why: {'; '.join(new.reasons)}.",
        f"Hear it over {new.root}; sing its top note, {new.sing}. Then between its neighbours,"
        + (" then round the fourths." if len(new.cycle) > 1 else " in time."),
    ]


def _about_tune(result: TodayResult) -> list[str]:
    passage = result.plan.passage
    assert passage is not None  # noqa: S101 - the caller's condition
    bars = f"bars {passage.first_bar} to {passage.last_bar}"
    if passage.first_bar == passage.last_bar:
        bars = f"bar {passage.first_bar}"
    lines = [f"{_capital(passage.title or 'the tune')}, {bars}, in time."]
    if passage.place is not None:
        step = passage.line.steps[passage.place]
        lines.append(f"The new grip is {step.chord} in bar {step.bar}.")
    return lines


def _answer(prompt: Prompt) -> str:
    return "the grip" if prompt.hidden else f"answer: {', '.join(prompt.answers[:3])}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
