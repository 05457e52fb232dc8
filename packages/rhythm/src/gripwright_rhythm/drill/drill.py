"""Drills: a line of grips played by a rhythm pattern over a click, at exact times."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final, Literal, get_args

import attrs

from gripwright import ChordEvent, Hand, NoteEvent, Score
from gripwright.errors import ConditionError
from gripwright.leading.line import Line
from gripwright.meter import RhythmPattern
from gripwright.meter.attack import Stroke
from gripwright_rhythm.click import Click
from gripwright_rhythm.drill.beneath import Note, RootSound, bass_notes, root_notes
from gripwright_rhythm.drill.clicking import chorus_clicks, click_events
from gripwright_rhythm.drill.form import form_of
from gripwright_rhythm.drill.part import Part, bars_of, changes_of, choruses_of, parts_of
from gripwright_rhythm.drill.placing import place_grips
from gripwright_rhythm.drill.sounding import Placed, ends_of
from gripwright_rhythm.drill.tempo import (
    beats_a_minute,
    exact_number,
    known_gap,
    tempo_words,
    tempos_of,
    wide_gap_note,
)
from gripwright_rhythm.swing import SLOWEST_MEASURED_BPM, swing_ratio

RightHand = Literal["strum", "pluck"]

MOST_CHORUSES: Final = 100
MOST_COUNT_IN: Final = 8
COUNT_IN_BARS: Final = 2
USUAL_TEMPO_BPM: Final = 60
_BASS_DYNAMIC: Final = 76
_ROOT_DYNAMIC: Final = 56
_USUAL_HAND: Final = Hand()
_USUAL_CLICK: Final = Click()


def make_drill(
    line: Line | Sequence[Line],
    pattern: RhythmPattern | None,
    click: Click = _USUAL_CLICK,
    *,
    tempo_bpm: Fraction | int = USUAL_TEMPO_BPM,
    tempo_of: str = "beats",
    tempo_step: Fraction | int = 0,
    choruses: int = 1,
    count_in: int = COUNT_IN_BARS,
    swing: Fraction | int | str = 1,
    staccato: Fraction | int = 1,
    ring_over: bool = False,
    stroke: RightHand = "strum",
    bass: bool = False,
    root: RootSound | None = None,
    ending: bool | None = None,
    hand: Hand = _USUAL_HAND,
) -> Score:
    """Play a line by a rhythm pattern: a score with exact times.

    A long chord lasts until the next attack or change of chord, whichever is first; a short one
    ends on the next beat or attack. An anticipation belongs to the chord that it anticipates.
    Where the chords of a bar share it equally, a place of the bar reads as the same place of each
    of them, so that each is heard. Hits that the chart prescribes are played as written. The last
    chorus ends with the form; where an approach or an anticipation aims past it, an ending bar
    follows in which the tonic is held. A first chord that only an anticipation would sound is
    anticipated in the count-in, or attacked at its start where there is none. In a break nothing
    sounds.

    Args:
        line: The line, played in every chorus; or one for each chorus, over again where there are
            fewer, each in the key of its own chart.
        pattern: The rhythm; None plays what the chart prescribes, and nothing else.
        click: Which beats click.
        tempo_bpm: Beats or clicks a minute; from 10 to 400 beats.
        tempo_of: What it counts: ``"beats"`` or ``"clicks"``.
        tempo_step: Beats a minute by which every chorus is faster than the one before.
        choruses: How often the form is played, 1 to 100.
        count_in: Bars of clicks on every beat before the form, 0 to 8; a pickup is played at the
            end of the last of them. None sounds where the click is off.
        swing: The ratio of the first half of a beat to the second, 1 to 4, or the name of a curve
            of `gripwright_rhythm.swing.CURVES`.
        staccato: The part of its length that a short chord sounds, above 0 and up to 1.
        ring_over: Whether long chords ring through changes, until the next attack; not into N.C.
            or a break.
        stroke: The right hand: ``"strum"``, down on beats and up between, or ``"pluck"``.
        bass: Whether bass notes sound, as a track of their own.
        root: ``"held"`` or ``"pulsed"``: the root beneath each chord, as a track of its own; None
            for no root.
        ending: Whether an ending bar follows; None leaves it to what aims at it.
        hand: The fretting hand, for approaches and for the ending.

    Returns:
        The score.

    Raises:
        ConditionError: A value out of range; a pattern or a click that is not for the metre of
            the tune, by its name; a line without chords.
        UnknownNameError: A name that is none.

    Example:
        >>> from gripwright import Chart, Instrument, lead
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> line = lead(Chart.parse("| Dm7 G7 | Cmaj7 |"), guitar, max_notes=4)
        >>> score = make_drill(line, RhythmPattern.parse("1'"), Click.parse("2 4"), tempo_bpm=90)
        >>> for event in score.events:
        ...     print(event.chord, event.onset, event.end, event.bar, event.beat)
        Dm7 0 1 1 1
        G7 2 3 1 3
        Cmaj7 4 5 2 1
    """
    lines = (line,) if isinstance(line, Line) else tuple(line)
    _check_lines(lines)
    staccato = exact_number("staccato", staccato)
    _check(choruses=choruses, count_in=count_in, stroke=stroke, root=root, staccato=staccato)
    forms = [form_of(one) for one in lines]
    first = forms[0]
    for form in forms:
        chorus_clicks(click, form)
    beats = beats_a_minute(tempo_bpm, tempo_of, click, first)
    parts = parts_of(forms, pattern, choruses, ending=ending, hand=hand)
    tempos = tempos_of(beats, exact_number("tempo_step", tempo_step), choruses)
    swings = [swing_ratio(swing, tempo, first.meter) for tempo in tempos]
    if tempo_of == "clicks":
        for ratio in swings:
            known_gap(click, first, ratio)
    slowest, uneven = min(zip(tempos, swings, strict=True))
    bars = bars_of(parts, first, count_in if click.counts_in else 0)
    frame = Score(
        instrument=lines[0].steps[0].voicing.instrument,
        bars=tuple(bar for bar, _ in bars),
        choruses=tuple(choruses_of(parts, bars[0][0].onset, tempos, swings)),
        changes=tuple(changes_of(parts, gripped=pattern is None)),
        events=(),
        title=first.title,
        rhythm="" if pattern is None else _rhythm_words(pattern),
        click=f"{click.words()}; {tempo_words(beats, click, first, swings[0])}",
    )
    placed, missing = place_grips(parts, frame, hand)
    quiet = [bar.onset for bar, played in bars if played is not None and played.rests]
    quiet += [change.onset for change in frame.changes if change.chord is None]
    ends = ends_of(
        placed, frame.end, ring_over=ring_over, staccato=staccato, silences=sorted(quiet)
    )
    events = tuple(_events(placed, ends, frame, stroke))
    return attrs.evolve(
        frame,
        changes=tuple(
            attrs.evolve(one, onset=frame.sounding(one.onset), end=frame.sounding(one.end))
            for one in frame.changes
        ),
        events=events,
        clicks=tuple(
            sorted(
                (
                    attrs.evolve(one, onset=frame.sounding(one.onset))
                    for one in click_events(click, bars, first.meter)
                ),
                key=lambda one: one.onset,
            )
        ),
        bass=tuple(_notes(parts, frame, _BASS_DYNAMIC, None)) if bass else (),
        root=tuple(_notes(parts, frame, _ROOT_DYNAMIC, root)) if root else (),
        notes=(
            *_notes_to_play(events, missing, pattern),
            *_notes_to_time(swing, tempos, wide_gap_note(slowest, click, first, uneven)),
        ),
    )


def _check_lines(lines: tuple[Line, ...]) -> None:
    if not lines:
        raise ConditionError(name="line", value="none", expected="one line or more")
    if len({one.steps[0].voicing.instrument for one in lines if one.steps}) > 1:
        raise ConditionError(name="line", value="several", expected="lines on one instrument")


def _check(
    *, choruses: int, count_in: int, stroke: str, root: str | None, staccato: Fraction | int
) -> None:
    for name, value, least, most in (
        ("choruses", choruses, 1, MOST_CHORUSES),
        ("count_in", count_in, 0, MOST_COUNT_IN),
    ):
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            raise ConditionError(name=name, value=value, expected=f"{least} to {most}")
    if stroke not in get_args(RightHand):
        raise ConditionError(name="stroke", value=stroke, expected="strum or pluck")
    if root is not None and root not in get_args(RootSound):
        raise ConditionError(name="root", value=root, expected="held or pulsed")
    if not 0 < staccato <= 1:
        raise ConditionError(
            name="staccato", value=str(staccato), expected="above 0 and up to 1 of the length"
        )


def _events(
    placed: list[Placed], ends: Iterable[tuple[Fraction, bool]], frame: Score, stroke: RightHand
) -> Iterator[ChordEvent]:
    for one, (end, short) in zip(placed, ends, strict=True):
        bar = frame.bar_at(one.time)
        yield ChordEvent(
            onset=frame.sounding(one.time),
            end=frame.sounding(end),
            voicing=one.voicing,
            bar=bar.number,
            beat=bar.meter.beat_of(one.time - bar.onset + bar.lead_in),
            dynamic=one.dynamic,
            accent=one.attack.accent,
            stroke=one.attack.stroke or _stroke(one, stroke),
            push=one.push,
            approach=one.approach,
            short=short,
        )


def _stroke(one: Placed, hand: RightHand) -> Stroke:
    if hand == "pluck":
        return "pluck"
    return "down" if (one.time - one.zero) % one.pulse == 0 else "up"


def _notes(
    parts: list[Part], frame: Score, dynamic: int, root: RootSound | None
) -> Iterator[NoteEvent]:
    for part in parts:
        notes: Iterator[Note] = (
            bass_notes(part.form, part.pattern) if root is None else root_notes(part.form, root)
        )
        for onset, end, pitch in notes:
            start = part.onset + onset
            bar = frame.bar_at(start)
            yield NoteEvent(
                onset=frame.sounding(start),
                end=frame.sounding(part.onset + end),
                pitch=pitch,
                bar=bar.number,
                beat=bar.meter.beat_of(start - bar.onset + bar.lead_in),
                dynamic=dynamic,
            )


def _notes_to_play(
    events: tuple[ChordEvent, ...], missing: tuple[str, ...], pattern: RhythmPattern | None
) -> Iterator[str]:
    """What the player should know of the grips."""
    if not events and pattern is None:
        yield "No rhythm is prescribed: the chords are yours to place."
    elif not events:
        yield "No attack of this rhythm falls on a chord of the chart."
    if missing:
        yield f"No grip leads in by this approach to {', '.join(missing)}: it is left out there."
    if any(event.short and 0 in event.voicing.frets for event in events):
        yield (
            "An open string rings on when the hand lifts: damp it where a chord ends, or ask for"
            " grips without open strings."
        )


def _notes_to_time(
    swing: Fraction | int | str, tempos: list[Fraction], wide: str | None
) -> Iterator[str]:
    """What the player should know of clicks and swing."""
    if swing == "drummers" and min(tempos) < SLOWEST_MEASURED_BPM:
        yield (
            f"The drummers' ratio is unmeasured below {SLOWEST_MEASURED_BPM} beats a minute: here"
            " it goes on as at its slowest."
        )
    if wide is not None:
        yield wide


def _rhythm_words(pattern: RhythmPattern) -> str:
    return f"{pattern.name}: {pattern.summary.rstrip('.') or pattern}"
