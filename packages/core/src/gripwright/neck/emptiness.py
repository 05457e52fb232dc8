"""Why a search found nothing: the condition whose removal brings voicings back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, Final

import attrs

from gripwright.errors import RowBoundError
from gripwright.neck.conditions import Conditions
from gripwright.neck.hand import LONGEST_REACH_MM, MOST_FINGERS, Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.search import find_voicings
from gripwright.neck.tones import TONES_IN_MASK, mask_of
from gripwright.theory.chord import Chord

_USUAL_LEAST: Final = 3
_ORDER: Final[tuple[tuple[str, Callable[[Any], str]], ...]] = (
    ("top_degree", lambda value: f"{value} as the top note"),
    ("top_note", lambda value: f"{value} on top"),
    ("bass_degree", lambda value: f"{value} as the lowest note"),
    ("strings", lambda value: f"strings {', '.join(map(str, value))} and no others"),
    ("highest_fret", lambda value: f"no fret above {value}"),
    ("lowest_fret", lambda value: f"no fret below {value}"),
    ("no_open", lambda _: "no open strings"),
    ("no_inner_mutes", lambda _: "no muted string between sounding ones"),
    ("no_doubles", lambda _: "no tone twice"),
    ("root", lambda value: "the root" if value == "required" else "no root"),
    ("min_notes", lambda value: f"at least {value} notes"),
    ("max_notes", lambda value: f"at most {value} notes"),
    ("min_tones", lambda value: f"at least {value} different tones"),
    ("stroke", lambda value: f"the right hand's stroke, {value}"),
    ("as_written", lambda _: "the symbol as written"),
)
"""Conditions in the order in which their removal is tried, and how each is said."""


@attrs.frozen
class Emptiness:
    """What emptied a search.

    Args:
        condition: The first setting, in a fixed order, whose removal brings voicings back: a
            condition, ``"strategy"``, ``"reach_mm"`` or ``"fingers"``; None where no single one
            does.
        returning: How many voicings come back without it; None where there are more than can
            be held.
        sentence: The same for a reader.

    Example:
        >>> from gripwright import Chord, Hand, Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> explain_empty(Chord.parse("Cmaj9"), guitar, Hand(), strings=(6, 5)).condition
        'strings'
    """

    condition: str | None
    returning: int | None
    sentence: str


def explain_empty(
    chord: Chord,
    instrument: Instrument,
    hand: Hand,
    strategy: VoicingStrategy | None = None,
    **conditions: Any,
) -> Emptiness:
    """Why a search finds no voicing.

    Conditions are tried in a fixed order: top, bass, strings, fret limits, open strings, mutes,
    doubles, root, numbers of notes and tones, stroke, as written, strategy, reach, fingers.

    Args:
        chord: The chord of the search.
        instrument: The instrument of the search.
        hand: The hand of the search.
        strategy: The strategy of the search.
        **conditions: The conditions of the search.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> chord = Chord.parse("C")
        >>> print(explain_empty(chord, guitar, Hand(), min_notes=6, no_doubles=True).sentence)
        no playable voicing of C; without the condition 'no tone twice' there are 433
    """
    for name, said, returning in _relaxed(chord, instrument, hand, strategy, conditions):
        count = returning()
        if count == 0:
            continue
        shown = "very many" if count is None else f"{count:,}"
        be = "is" if count == 1 else "are"
        sentence = (
            f"no playable voicing of {chord}; without the condition '{said}' there {be} {shown}"
        )
        return Emptiness(name, count, sentence)
    return Emptiness(None, 0, _hopeless(chord, instrument, Conditions(**conditions)))


def _relaxed(
    chord: Chord,
    instrument: Instrument,
    hand: Hand,
    strategy: VoicingStrategy | None,
    conditions: dict[str, Any],
) -> Iterator[tuple[str, str, Callable[[], int | None]]]:
    asked = Conditions(**conditions)
    usual = Conditions()

    def count(
        hand: Hand = hand, strategy: VoicingStrategy | None = strategy, **without: Any
    ) -> int | None:
        relaxed = attrs.asdict(attrs.evolve(asked, **without), recurse=False)
        try:
            return len(find_voicings(chord, instrument, hand, strategy, **relaxed))
        except RowBoundError:
            return None

    for name, say in _ORDER:
        value, default = getattr(asked, name), getattr(usual, name)
        if value != default:
            yield name, say(value), partial(count, **{name: default})
    if strategy is not None:
        said = f"the strategy {strategy.name}"
        yield "strategy", said, partial(count, strategy=None)
    longer = attrs.evolve(hand, reach_mm=LONGEST_REACH_MM)
    yield "reach_mm", f"a reach of {hand.reach_mm:g} mm", partial(count, hand=longer)
    more = attrs.evolve(hand, fingers=MOST_FINGERS)
    fingers = "1 finger" if hand.fingers == 1 else f"{hand.fingers} fingers"
    yield "fingers", fingers, partial(count, hand=more)


def _hopeless(chord: Chord, instrument: Instrument, asked: Conditions) -> str:
    groups = [mask_of(group) for group in chord.essential]
    needed = sum(1 for index, group in enumerate(groups) if group not in groups[:index])
    if chord.bass is not None:
        place = (chord.bass.pitch_class - chord.root.pitch_class) % 12
        needed += not any(group >> place & 1 for group in groups)
    strings = len(instrument.strings)
    tones = int(TONES_IN_MASK[mask_of(chord.degrees)]) + chord.foreign_bass
    needed = max(needed, asked.min_tones or min(_USUAL_LEAST, tones))
    if needed > strings:
        return (
            f"no playable voicing of {chord}: of its {tones} tones {needed} must sound, "
            f"and {instrument.id} has {strings} {'string' if strings == 1 else 'strings'}"
        )
    return f"no playable voicing of {chord}: more than one condition stands in the way"
