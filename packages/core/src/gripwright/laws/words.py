"""Values in the field's own words, for whoever reads a counterexample."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Any, Final

from gripwright.laws.drawing.symbol import Spelling
from gripwright.meter import Meter, RhythmPattern
from gripwright.neck import Hand, Instrument, Shape, Voicing
from gripwright.plugins.kinds import shown
from gripwright.score import ChordEvent, Score
from gripwright.theory import Chord, Degree, Interval, Note, Pitch, Quality
from gripwright.tune import Chart, Key

_LONGEST: Final = 400

_NAMES: Final = {"meter": "metre"}
"""Arguments that are called otherwise in words."""


def in_words(value: object) -> str:
    """A value as a player or a developer would write it down.

    Args:
        value: Any value that a law draws.

    Example:
        >>> in_words(Chord.parse("Cmaj7")), in_words(Hand())
        ('Cmaj7', '4 fingers, 115 mm')
        >>> in_words(Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345))
        'G4 C4 E4 A4, 15 frets, 345 mm'
    """
    for kind, words in _WORDS:
        if isinstance(value, kind):
            text = words(value)
            return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}..."
    return shown(value)


def case_in_words(drawn: Mapping[str, object]) -> str:
    """What a law was tried on, by name.

    Example:
        >>> case_in_words({"chord": Chord.parse("Dm"), "interval": Interval.parse("m3")})
        'chord Dm, interval m3'
    """
    return ", ".join(
        f"{_NAMES.get(name, name.replace('_', ' '))} {in_words(value)}"
        for name, value in drawn.items()
    )


def _instrument(own: Instrument) -> str:
    lengths = sorted({string.scale_mm for string in own.strings})
    length = " to ".join(f"{mm:g}" for mm in dict.fromkeys((lengths[0], lengths[-1])))
    late = [
        f"string {len(own.strings) - index} from fret {string.first_fret}"
        for index, string in enumerate(own.strings)
        if string.first_fret
    ]
    tuning = " ".join(str(string.open) for string in own.strings)
    return ", ".join((tuning, f"{own.frets} frets", f"{length} mm", *late))


def _score(score: Score) -> str:
    bars = " ".join(f"{bar.length}" for bar in score.bars)
    tempos = ", ".join(f"{chorus.tempo_bpm}" for chorus in score.choruses)
    parts = [
        f"bars of {bars} quarters from {score.start} on {score.instrument.id}",
        f"tempo {tempos}",
        *_some("swing", (one.swing for one in score.choruses if one.swing != 1)),
        *_some("chords", map(_event, score.events)),
        *_some("clicks at", (click.onset for click in score.clicks)),
        *_some("bass", (f"{one.pitch} {one.onset} to {one.end}" for one in score.bass)),
        *_some("root", (f"{one.pitch} {one.onset} to {one.end}" for one in score.root)),
        *_some("title", [] if score.title is None else [ascii(score.title)]),
    ]
    return f"({'; '.join(parts)})"


def _event(event: ChordEvent) -> str:
    return f"{event.chord} {event.voicing.shape} {event.onset} to {event.end}"


def _some(name: str, values: Iterable[object]) -> list[str]:
    texts = list(map(str, values))
    return [f"{name} {', '.join(texts)}"] if texts else []


def _pattern(pattern: RhythmPattern) -> str:
    return f'"{pattern}" in {pattern.meter}'


def _chart(chart: Chart[Any]) -> str:
    return ascii(str(chart))


_WORDS: Final[tuple[tuple[type | tuple[type, ...], Callable[[Any], str]], ...]] = (
    ((Note, Pitch, Interval, Degree, Chord, Meter, Shape, Key, Fraction), str),
    (bool, lambda value: "yes" if value else "no"),
    (int, str),
    (Quality, lambda quality: quality.name or "major"),
    (Hand, lambda hand: f"{hand.fingers} fingers, {hand.reach_mm:g} mm"),
    (Spelling, lambda spelling: ascii(spelling.text)),
    (Instrument, _instrument),
    (Voicing, lambda voicing: f"{voicing.chord} {voicing.id}"),
    (RhythmPattern, _pattern),
    (Chart, _chart),
    (Score, _score),
)
"""The first row whose type fits counts."""
