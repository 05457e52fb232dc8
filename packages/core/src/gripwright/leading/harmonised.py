"""Melodies harmonised: a line of voicings whose top notes are a sung melody."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import attrs

from gripwright.errors import ConditionError, NoCandidateError
from gripwright.leading.choice import MelodyNote
from gripwright.leading.line import Line, LineStep, lead
from gripwright.leading.top_note import under_top
from gripwright.neck.instrument import Instrument
from gripwright.theory.chord import Chord
from gripwright.theory.pitch import Pitch
from gripwright.tune.chart import Chart


def melody_tops(chart: Chart[Chord], melody: Iterable[MelodyNote]) -> tuple[Pitch | None, ...]:
    """The note of a melody that each chord of a chart carries on top.

    It is the note that sounds as the chord is struck, the highest of several; or else the first
    that starts before the chord ends.

    Args:
        chart: The tune.
        melody: Its melody, timed from the start of the form as unfolded.

    Returns:
        A pitch for each chord as played, N.C. left out; None where no note sounds.

    Example:
        >>> from fractions import Fraction
        >>> note = attrs.make_class("Sung", ["onset", "length", "pitch"])
        >>> sung = [note(Fraction(1), Fraction(4), Pitch.parse("A4"))]
        >>> [str(top) for top in melody_tops(Chart.parse("| Dm7 | G7 | C6 |"), sung)]
        ['A4', 'A4', 'None']
    """
    notes = sorted(melody, key=lambda note: (note.onset, -note.pitch.midi))
    tops: list[Pitch | None] = []
    for span in chart.unfolded().spans:
        if span.symbol is None:
            continue
        struck = [n for n in notes if n.onset <= span.onset < n.onset + n.length]
        later = [n for n in notes if span.onset < n.onset < span.end]
        if struck:
            tops.append(max((note.pitch for note in struck), key=lambda pitch: pitch.midi))
        else:
            tops.append(later[0].pitch if later else None)
    return tuple(tops)


def harmonised(
    chart: Chart[Chord] | Sequence[Chord],
    instrument: Instrument,
    tops: Sequence[Pitch | None],
    **settings: Any,
) -> Line:
    """The cheapest line of voicings below a given top line.

    As `gripwright.leading.line.lead` with ``top`` given; and a note that the chord does not have
    is added to it as a tension, save where the symbol is to be voiced as written.

    Args:
        chart: The tune, as unfolded, or chords of a bar of four quarters each.
        instrument: The instrument.
        tops: The top note of each chord, None where free; `melody_tops` gives those of a melody.
        **settings: As for `lead`, without ``top`` and ``melody``.

    Returns:
        The line.

    Raises:
        NoCandidateError: A chord that has no voicing with its top note; says which bar.
        ConditionError: A value outside its range, or a top line of another length.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> sung = [Pitch.parse(name) for name in ("E4", "E4", "D4")]
        >>> line = harmonised(Chart.parse("| Dm7 | G7 | Cmaj7 |"), guitar, sung, max_notes=4)
        >>> [str(step.voicing.top_degree) for step in line.steps]
        ['9', '13', '9']
    """
    for name in ("top", "melody"):
        if name in settings:
            raise ConditionError(name=name, value=settings[name], expected="tops alone")
    if isinstance(chart, Chart):
        spans = tuple(span for span in chart.unfolded().spans if span.symbol is not None)
        chords = tuple(span.symbol for span in spans if span.symbol is not None)
        bars = tuple(span.bar + 1 for span in spans)
    else:
        spans, chords = (), tuple(chart)
        bars = tuple(range(1, len(chords) + 1))
    if len(tops) != len(chords):
        raise ConditionError(
            name="tops",
            value=f"{len(tops)} notes",
            expected=f"one for each of {len(chords)} chords",
        )
    voiced = chords
    if not settings.get("as_written"):
        voiced = tuple(
            chord if top is None else under_top(chord, top)
            for chord, top in zip(chords, tops, strict=True)
        )
    try:
        line = lead(voiced, instrument, top=tops, **settings)
    except NoCandidateError as error:
        raise NoCandidateError(
            chord=error.chord, bar=bars[error.bar - 1], reason=error.reason
        ) from None
    steps = [_as_written(step, chord) for step, chord in zip(line.steps, chords, strict=True)]
    if spans:
        steps = [
            attrs.evolve(step, onset=span.onset, length=span.length, bar=bar)
            for step, span, bar in zip(steps, spans, bars, strict=True)
        ]
    return attrs.evolve(line, steps=tuple(steps))


def _as_written(step: LineStep, chord: Chord) -> LineStep:
    """The step with the chord of the chart, what the top note adds being named in its voicing."""
    return attrs.evolve(step, chord=chord, voicing=attrs.evolve(step.voicing, chord=chord))
