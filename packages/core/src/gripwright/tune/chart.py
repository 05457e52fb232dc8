"""Charts: the chords of a tune, bar by bar, as musicians write them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from functools import cached_property
from typing import Any, Final, Generic, TypeVar, overload

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright.meter.hit import exact
from gripwright.theory.chord import Chord
from gripwright.tune.bar import Bar
from gripwright.tune.key import Key
from gripwright.tune.section import (
    Section,
    Settings,
    as_comments,
    check_comments,
    check_name,
)
from gripwright.tune.signs import find_misfits
from gripwright.tune.text_reader import ChartReader
from gripwright.tune.text_writer import chart_lines
from gripwright.tune.unfold import Unfolded, unfold
from gripwright.tune.written import COMMON_TIME, WrittenBar, write_out

S = TypeVar("S")
T = TypeVar("T")

OPEN_TIMES: Final = 2
"""How often an open vamp is played where nobody says."""


def _as_sections(sections: Iterable[Section[S]]) -> tuple[Section[S], ...]:
    return tuple(sections)


@attrs.frozen
class Chart(Generic[S]):
    """The chords of a tune with everything that says how they are played.

    As text, a chart is lines of bars; what a line says after a semicolon is a comment.

    - Bars stand between ``|``; a line ends a bar too. ``| Dm7 G7 |``: the chords of a bar share it
      equally. With ``/`` every word is a beat: ``| Dm7 / / G7 |``; a bar that starts with ``/``
      goes on with the chord before. ``G7@3.5`` comes in at an exact place, the and of three: a
      beat from 1, with a point or as ``7/2``.
    - ``%`` is the bar before, ``N.C.`` no chord, ``<C6>`` a chord attacked once and held.
    - ``{1 2.5' 4.5>}`` prescribes hits, at their places, after the chords of a bar: ``'`` is a
      short one (until the next beat or hit), ``:1.5`` lasts so many beats, none of the two lasts
      until the next attack or change; ``>`` is a push, which belongs to the next chord. ``{}`` is
      a break.
    - ``|:`` and ``:|`` repeat, ``:| x4`` four times in all, ``:| open`` as often as one likes;
      ``|1.``, ``:|2.`` and ``|1,3.`` begin endings. Without ``|:`` a repeat starts with its section
      or after the repeat before.
    - ``Segno``, ``Coda``, ``To Coda``, ``Fine``, ``D.C.``, ``D.S.``, each of the two also with
      ``al Fine`` or ``al Coda``, stand as words in a bar. A section called Coda is the coda.
    - ``[A]`` starts a section, ``[]`` one without a letter. ``3/4`` in a bar is the metre of that
      bar alone.
    - Lines such as ``key: Bb``, ``metre: 3/4``, ``tempo: 120`` (beats a minute) and ``feel: swing``
      hold in the section under whose letter they stand, before the first bar in the whole chart;
      a line among bars starts a section without a letter. ``title: ...`` and ``pickup: 1`` (beats
      in the first bar, which is the end of its metre: places in it count from there) stand before
      the first bar.

    A chart prints back to itself: at most four bars a line and a new line after each repeat,
    chords by their canonical symbols, comments at the head of their section.

    Args:
        sections: The sections, one or more.
        settings: Key, metre, tempo and feel where a section says nothing.
        title: The title, if any.
        pickup: Quarters in the first bar, where it is shorter than its metre: it is the end of
            a bar. Else 0.
        comments: Comments before the first section, for readers.

    Raises:
        ConditionError: Chords outside their bars, or repeats and jumps that lead nowhere.

    Example:
        >>> chart = Chart.parse("[A] |: Dm7 | G7 |1. Em7 A7 :|2. Cmaj7 |")
        >>> print(chart)
        [A]
        |: Dm7 | G7 |1. Em7 A7 :|2. Cmaj7 |
        >>> len(chart.bars), len(chart.unfolded().bars)
        (4, 6)
    """

    sections: tuple[Section[S], ...] = attrs.field(converter=_as_sections)
    settings: Settings = attrs.field(default=Settings())
    title: str | None = attrs.field(default=None, validator=check_name)
    pickup: Fraction = attrs.field(default=Fraction(0), converter=exact)
    comments: tuple[str, ...] = attrs.field(
        default=(), converter=as_comments, validator=check_comments
    )

    @sections.validator
    def _check_sections(self, _attribute: object, value: tuple[Section[Any], ...]) -> None:
        if not value:
            raise ConditionError(name="sections", value=value, expected="one section or more")

    def __attrs_post_init__(self) -> None:
        if self.pickup >= self.written[0].meter.length:
            raise ConditionError(
                name="pickup", value=self.pickup, expected="fewer quarters than its metre has"
            )
        for misfit in find_misfits(self.written):
            raise ConditionError(
                name=f"{misfit.part} of bar {misfit.bar + 1}",
                value=getattr(self.bars[misfit.bar], misfit.part),
                expected=misfit.expected,
            )

    @overload
    @classmethod
    def parse(cls, text: str) -> Chart[Chord]: ...

    @overload
    @classmethod
    def parse(cls, text: str, *, reader: Callable[[str], T]) -> Chart[T]: ...

    @classmethod
    def parse(cls, text: str, *, reader: Callable[[str], Any] = Chord.parse) -> Chart[Any]:
        r"""Read the text of a chart.

        Args:
            text: The text, of at most 100,000 characters.
            reader: What reads a symbol; raises `NotationError` where it cannot. Symbols are
                words without ``| : ; { } < > @``.

        Returns:
            The chart.

        Raises:
            ChartError: The text is no chart; says every fault of it with line, column, what was
                expected and the nearest readable text.

        Example:
            >>> from gripwright import ChartError
            >>> try:
            ...     Chart.parse("| Dm7 Qm7 |\n| C / |")
            ... except ChartError as error:
            ...     print(error)
            cannot read chart: 2 faults
              line 1, column 7: unexpected 'Qm7' (expected a root from A to G; did you mean 'C'?)
              line 2, column 3: unexpected 'C /' (expected 4 beats, not 2; did you mean 'C / / /'?)
        """
        chart_reader = ChartReader(reader)
        read = chart_reader.read(text)
        try:
            return Chart(read.sections, read.settings, read.title, read.pickup, read.comments)
        except ConditionError:
            # What a chart refuses as a value has its line and column in the text.
            chart_reader.check(read)
            raise

    def __str__(self) -> str:
        return "\n".join(
            chart_lines(self.sections, self.settings, self.title, self.pickup, self.comments)
        )

    @cached_property
    def written(self) -> tuple[WrittenBar[S], ...]:
        """The bars as written, each with the metre, key, tempo and feel in it."""
        return tuple(write_out(self.sections, self.settings, self.pickup))

    @property
    def bars(self) -> tuple[Bar[S], ...]:
        """The bars of all sections."""
        return tuple(bar for section in self.sections for bar in section.bars)

    @property
    def meter(self) -> Meter:
        """The metre where a section says nothing; 4/4 where the chart does not either."""
        return self.settings.meter or COMMON_TIME

    @property
    def key(self) -> Key | None:
        """The key where a section says nothing."""
        return self.settings.key

    @property
    def warnings(self) -> tuple[str, ...]:
        """What else the chart could mean, a sentence each, with its bar counted from 1.

        Example:
            >>> Chart.parse("| Dm7 G7 Em7 | C2 |").warnings
            ('bar 1: 3 chords share 4 beats equally; with / each would be a beat', \
'bar 2: 2 is read as an added ninth, Cadd9; some mean Csus2')
        """
        return tuple(self._warnings())

    def _warnings(self) -> Iterator[str]:
        for written in self.written:
            slots = written.bar.slots
            beats = written.length / written.meter.pulse
            shared = all(
                slot.onset * len(slots) == written.length * place
                for place, slot in enumerate(slots)
            )
            if slots and shared and (beats / len(slots) * 2).denominator != 1:
                yield (
                    f"bar {written.index + 1}: {len(slots)} chords share {beats} beats equally; "
                    "with / each would be a beat"
                )
            for slot in slots:
                for warning in getattr(slot.symbol, "warnings", ()):
                    yield f"bar {written.index + 1}: {warning}"

    def mapped(self, function: Callable[[S], T]) -> Chart[T]:
        """The chart with every chord replaced by what a function makes of it; N.C. stays.

        Args:
            function: Takes a symbol.

        Example:
            >>> str(Chart.parse("| Dm7 N.C. |").mapped(lambda chord: chord.root))
            '| D N.C. |'
        """
        return self.keyed(lambda symbol, _key: function(symbol))

    def keyed(self, function: Callable[[S, Key | None], T]) -> Chart[T]:
        r"""The same with a function that takes the symbol and the key in which it stands.

        Args:
            function: Takes a symbol and the key of its section, None where the chart says none.

        Example:
            >>> chart = Chart.parse("key: F\n| C7 |\n[B]\nkey: Bb\n| C7 |")
            >>> [bar.slots[0].symbol for bar in chart.keyed(lambda chord, key: str(key)).bars]
            ['F', 'Bb']
        """
        return Chart(
            tuple(
                Section(
                    tuple(
                        bar.mapped(_in_key(function, section.settings.key or self.key))
                        for bar in section.bars
                    ),
                    section.name,
                    section.settings,
                    section.comments,
                )
                for section in self.sections
            ),
            self.settings,
            self.title,
            self.pickup,
            self.comments,
        )

    def unfolded(self, *, open_times: int = OPEN_TIMES) -> Unfolded[S]:
        """The form in the order in which it is played, with exact places.

        Each jump is followed once. On the way back to it, repeats are not taken again and the
        last ending is played (common practice); ``D.C.`` leaves a pickup out.

        Args:
            open_times: How often an open vamp is played, 1 to 99.

        Returns:
            Bars, chords and hits, with onsets in quarters from the start of the form.

        Raises:
            ConditionError: `open_times` is out of range, or the form has more than 10,000 bars.

        Example:
            >>> form = Chart.parse("| C | F Fine | G7 D.C. al Fine |").unfolded()
            >>> [str(span.symbol) for span in form.spans]
            ['C', 'F', 'G7', 'C', 'F']
        """
        return unfold(self.written, open_times=open_times)


def _in_key(function: Callable[[S, Key | None], T], key: Key | None) -> Callable[[S], T]:
    return lambda symbol: function(symbol, key)
