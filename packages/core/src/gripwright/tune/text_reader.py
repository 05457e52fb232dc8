"""The reader of charts: from lines to sections, with all faults of the text at once."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Final, Generic, TypeVar, cast

from gripwright.errors import ChartError, ChartFault, NotationError
from gripwright.meter import Hit, Meter
from gripwright.named import nearest_names
from gripwright.tune.bar import MOST_PLAYED, OPEN, PLAIN, Slot
from gripwright.tune.section import NAME_EXPECTED, Section, Settings, is_name
from gripwright.tune.signs import find_misfits
from gripwright.tune.text_bar import SlotReader, read_hits
from gripwright.tune.text_draft import BarDraft, ChartText, SectionDraft
from gripwright.tune.text_numbers import read_passes
from gripwright.tune.text_settings import CHART_ONLY, FIELDS, LINE, read_setting
from gripwright.tune.text_tokens import Token, tokens_of
from gripwright.tune.written import COMMON_TIME, write_out

S = TypeVar("S")

LONGEST_TEXT: Final = 100_000
"""Characters of the longest chart that is read."""

COMMENT: Final = ";"

_SIGNS: Final = frozenset({"segno", "coda", "to_coda", "fine"})
_CHORDS: Final = frozenset({"symbol", "held", "none", "beats"})
_PAIRS: Final = {
    "[": "the name of a section and ']'",
    "{": "the places of hits and '}'",
    "<": "one chord and '>'",
}
_SETTINGS_EXPECTED: Final = "a setting: key, metre, tempo, feel, title or pickup"


class ChartReader(Generic[S]):
    """Reads one chart.

    Args:
        read_symbol: Reads one symbol; raises `NotationError` where it cannot.
    """

    def __init__(self, read_symbol: Callable[[str], S]) -> None:
        self._slots = SlotReader(read_symbol)
        self._faults: list[ChartFault] = []
        self._chart: SectionDraft[S] = SectionDraft(None, (1, 1, ""))
        self._sections: list[SectionDraft[S]] = []
        self._line = 1
        self._bar: BarDraft[S] | None = None
        self._waiting: BarDraft[S] | None = None
        self._ended: BarDraft[S] | None = None
        self._left: Token | None = None

    def read(self, text: str) -> ChartText[S]:
        """Read the text of a chart.

        Raises:
            ChartError: The text is no chart; holds every fault of it.

        Example:
            >>> chart = ChartReader(str).read("[A] | ii7 V7 | Imaj7 |")
            >>> chart.sections[0].bars[0].slots[1].symbol
            'V7'
        """
        if len(text) > LONGEST_TEXT:
            self._fault(1, 1, "", f"at most {LONGEST_TEXT:,} characters")
            raise self._error()
        for number, line in enumerate(text.splitlines(), 1):
            self._line = number
            self._read_line(line)
        if self._waiting is not None:
            self._fault(*self._waiting.places[""], "a bar after this sign")
        if not any(section.bars for section in self._sections):
            self._fault(self._line, 1, "", "a bar, such as '| Dm7 G7 |'")
        for section in self._sections:
            if not section.bars:
                self._fault(*section.place, "a bar in every section")
        chart = self._build()
        if self._faults:
            if chart.sections:
                self.check(chart)
            raise self._error()
        return chart

    def check(self, chart: ChartText[S]) -> None:
        """Add what keeps the bars that were read from being played to the faults.

        Raises:
            ChartError: There are such faults; holds them all.
        """
        drafts = [bar for section in self._sections for bar in section.bars]
        for misfit in find_misfits(tuple(write_out(chart.sections, chart.settings, chart.pickup))):
            draft = drafts[misfit.bar]
            if draft.sound or misfit.part not in {"slots", "hits", "same"}:
                self._fault(*draft.places.get(misfit.part, draft.places[""]), misfit.expected)
        if self._faults:
            raise self._error()

    def _error(self) -> ChartError:
        self._faults.sort(key=lambda fault: (fault.line, fault.column))
        return ChartError(faults=tuple(dict.fromkeys(self._faults)))

    def _fault(
        self, line: int, column: int, text: str, expected: str, nearest: str | None = None
    ) -> None:
        self._faults.append(ChartFault(line, column, text, expected, nearest))

    def _say(
        self,
        token: Token,
        expected: str,
        *,
        text: str | None = None,
        column: int | None = None,
        nearest: str | None = None,
    ) -> None:
        self._fault(
            self._line,
            token.column if column is None else column,
            token.text if text is None else text,
            expected,
            nearest,
        )

    # Lines

    def _read_line(self, line: str) -> None:
        line, sign, comment = line.partition(COMMENT)
        self._read_words(line)
        if sign:
            self._here.comments.append(comment.strip())

    def _read_words(self, line: str) -> None:
        setting = LINE.match(line)
        if setting is not None:
            columns = setting.start(1) + 1, setting.start(2) + 1
            self._read_setting(setting[1], columns[0], setting[2], columns[1])
            return
        if self._read_plain(line):
            return
        self._left = None
        for token in tokens_of(line):
            self._read_token(token)
        self._close_bar()

    def _read_plain(self, line: str) -> bool:
        """Read a line of bars that hold nothing but symbols, which most lines do."""
        section = self._sections[-1] if self._sections else SectionDraft[S](None, (1, 1, ""))
        pickup = not section.bars and "pickup" in self._chart.values
        if self._waiting is not None or pickup:
            return False
        bars = self._slots.read_plain(line, self._meter_here(section))
        if not bars:
            return False
        if not self._sections:
            self._sections.append(section)
        section.bars += [BarDraft((self._line, column, text), bar) for column, text, bar in bars]
        self._ended = None
        return True

    @property
    def _here(self) -> SectionDraft[S]:
        """What comments and settings belong to: the section under way, else the chart.

        Bars under no heading have no place of their own for them.
        """
        if self._sections and self._sections[-1].place[2]:
            return self._sections[-1]
        return self._chart

    def _read_setting(self, word: str, column: int, value: str, value_column: int) -> None:
        field = FIELDS.get(word.lower())
        if field is None:
            near = nearest_names(word, FIELDS)
            expected = f"{_SETTINGS_EXPECTED}, or a section such as [A]"
            nearest = near[0] if near else f"[{word}]"
            self._fault(self._line, column, word, expected, nearest)
            return
        if self._sections and field in CHART_ONLY:
            self._fault(self._line, column, word, "a title or pickup before the first bar only")
            return
        if self._sections and self._sections[-1].bars:
            self._open_section(None, (self._line, column, word))
        here = self._here
        if field in here.values:
            self._fault(self._line, column, word, f"one {word} in a section")
            return
        if not value:
            self._fault(self._line, value_column, "", f"a value of {word.lower()}")
            return
        try:
            here.values[field] = read_setting(field, value)
        except NotationError as error:
            where = value_column + error.position
            self._fault(self._line, where, value, error.expected, error.nearest)

    # Tokens

    def _read_token(self, token: Token) -> None:
        kind = token.kind
        if kind == "line":
            self._read_bar_line(token)
            return
        ended, self._ended = self._ended, None
        if kind == "section":
            self._close_bar()
            self._left = None
            self._read_section(token)
        elif kind == "times":
            if ended is None:
                self._say(token, "':|' before the number of times")
                self._left = None
            else:
                self._read_times(token, ended)
        else:
            self._read_content(token)

    def _read_content(self, token: Token) -> None:
        if self._bar is None:
            self._bar = self._waiting or BarDraft((self._line, token.column, token.text))
            self._waiting = None
        bar, kind = self._bar, token.kind
        if kind in {"broken", "stray"}:
            self._say(token, _PAIRS.get(token.text[0], "a chord, a bar line or a sign"))
            bar.sound = False
            return
        bar.places[""] = self._line, token.column, token.text
        if kind in _CHORDS:
            bar.tokens.append(token)
        elif kind == "hits":
            if bar.hits is not None:
                self._say(token, "hits once in a bar")
            bar.hits = token
        elif kind == "same":
            bar.put("same", True, self._line, token)  # noqa: FBT003 - the value of a field
        elif kind in _SIGNS:
            bar.put(kind, True, self._line, token)  # noqa: FBT003 - the value of a field
        elif kind == "jump":
            letter = (token.match["back"] or token.match["plain"]).upper()
            goal = token.match["goal"]
            jump = f"D.{letter}." + (f" al {goal.title()}" if goal else "")
            if "jump" in bar.fields:
                self._say(token, "one jump in a bar")
            bar.put("jump", jump, self._line, token)
        else:
            self._read_meter(token, bar)

    def _read_meter(self, token: Token, bar: BarDraft[S]) -> None:
        try:
            bar.put("meter", Meter.parse(token.text), self._line, token)
        except NotationError as error:
            self._say(token, error.expected, column=token.column + error.position)
            bar.sound = False

    def _read_section(self, token: Token) -> None:
        name = token.match["name"].strip() or None
        if name is not None and not is_name(name):
            self._say(token, NAME_EXPECTED)
            name = None
        self._open_section(name, (self._line, token.column, token.text))

    def _open_section(self, name: str | None, place: tuple[int, int, str]) -> None:
        self._sections.append(SectionDraft(name, place))

    def _read_times(self, token: Token, ended: BarDraft[S]) -> None:
        times = OPEN if token.match["open"] else int(token.match["count"])
        if times != OPEN and not PLAIN <= times <= MOST_PLAYED:
            self._say(token, f"x{PLAIN} to x{MOST_PLAYED}, or open")
            return
        ended.fields["repeat_end"] = times
        ended.places["repeat_end"] = self._line, token.column, token.text

    def _read_bar_line(self, token: Token) -> None:
        bare = token.text.partition("|")
        closes, opens = bare[0] == ":", token.text.rstrip("0123456789,-. \t").endswith("|:")
        passes = token.match["passes"]
        had = self._bar is not None
        self._close_bar()
        if not had and self._left is not None and not (opens or passes):
            self._say(token, "a chord, '/', '%' or N.C. in every bar")
        self._ended = None
        if closes:
            last = self._sections[-1].bars if self._sections else []
            if not last:
                self._say(token, "a bar before the end of a repeat")
            else:
                last[-1].put("repeat_end", PLAIN, self._line, token)
                self._ended = last[-1]
        if opens or passes:
            self._read_start(token, passes, opens=opens)
        # After ':|' another sign may follow before the next bar.
        self._left = None if closes and not (opens or passes) else token

    def _read_start(self, token: Token, passes: str | None, *, opens: bool) -> None:
        waiting = self._waiting or BarDraft((self._line, token.column, token.text))
        waiting.places[""] = self._line, token.column, token.text
        self._waiting = waiting
        if opens:
            waiting.put("repeat_start", True, self._line, token)  # noqa: FBT003 - as above
        if passes:
            numbers = read_passes(passes)
            if numbers is None:
                self._say(token, "the passes of an ending, rising from 1, such as '|1,3.'")
            else:
                waiting.put("endings", numbers, self._line, token)

    # Bars

    def _close_bar(self) -> None:
        bar, self._bar = self._bar, None
        if bar is None:
            return
        if not self._sections:
            self._open_section(None, (self._line, 1, ""))
        section = self._sections[-1]
        first = not any(section.bars for section in self._sections)
        section.bars.append(bar)
        before = len(self._faults)
        meter, lead_in = self._meter_of(bar, section, first=first)
        slots: tuple[Slot[S], ...] = ()
        hits: tuple[Hit, ...] | None = None
        if "same" in bar.fields:
            if bar.tokens or bar.hits is not None:
                extra = bar.tokens[0] if bar.tokens else cast("Token", bar.hits)
                self._say(extra, "'%' alone in its bar")
        elif not bar.tokens and not bar.sound:
            pass
        elif not bar.tokens:
            self._fault(*bar.places[""], "a chord, '/', '%' or N.C. in every bar")
        else:
            slots = self._slots.read(bar.tokens, meter, lead_in, self._say)
            if bar.hits is not None:
                hits = read_hits(bar.hits, meter, lead_in, self._say)
        bar.sound = bar.sound and before == len(self._faults)
        if bar.sound:
            bar.fields |= {"slots": slots, "hits": hits}
        if bar.tokens:
            bar.places["slots"] = self._line, bar.tokens[0].column, bar.tokens[0].text

    def _meter_here(self, section: SectionDraft[S]) -> Meter:
        meter: Meter = section.values.get("meter") or self._chart.values.get("meter") or COMMON_TIME
        return meter

    def _meter_of(
        self, bar: BarDraft[S], section: SectionDraft[S], *, first: bool
    ) -> tuple[Meter, Fraction]:
        """The metre of a bar, and the quarters that it lacks at its start."""
        meter: Meter = bar.fields.get("meter") or self._meter_here(section)
        beats: Fraction | None = self._chart.values.get("pickup") if first else None
        if beats is None:
            return meter, Fraction(0)
        if beats * meter.pulse >= meter.length:
            self._fault(*bar.places[""], f"a pickup of fewer than {meter.pulses} beats")
            del self._chart.values["pickup"]
            return meter, Fraction(0)
        self._chart.values["pickup_quarters"] = beats * meter.pulse
        return meter, meter.length - beats * meter.pulse

    # The whole

    def _build(self) -> ChartText[S]:
        sections = tuple(
            Section(
                tuple(bar.built() for bar in section.bars),
                section.name,
                Settings(**section.values),
                tuple(section.comments),
            )
            for section in self._sections
            if section.bars
        )
        values = dict(self._chart.values)
        values.pop("pickup", None)
        pickup = values.pop("pickup_quarters", Fraction(0))
        title = values.pop("title", None)
        settings = Settings(**values)
        return ChartText(sections, settings, title, pickup, tuple(self._chart.comments))
