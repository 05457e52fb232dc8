"""Gaps: what a vocabulary lacks, coarse ones before fine ones.

A gap is a kind of chord that is missing altogether, or on a group of strings, or on a group with
some degree on top or in the bass (an inversion). A finer one is named only where the coarser is
filled, and only where the instrument has a movable grip for the hand to fill it with.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Any, Final

import attrs
import numpy as np

from gripwright.leading.top_note import under_top
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.ranking import teaching
from gripwright.neck.search import find_voicings
from gripwright.neck.settle import sounding_pitches
from gripwright.neck.table import VoicingTable
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.note import Note
from gripwright.theory.pitch import Pitch
from gripwright.theory.quality import QUALITIES, Quality
from gripwright.vocabulary.entry import Facts
from gripwright.vocabulary.strings import StringGroup, string_groups
from gripwright.vocabulary.words import quality_in_words

SYLLABUS: Final[tuple[Quality, ...]] = tuple(
    QUALITIES[name]
    for name in (
        *("maj7", "7", "m7", "", "m", "m7b5", "6", "m6", "dim7", "9", "maj9", "m9", "13", "6/9"),
        *("7sus4", "9sus4", "7b9", "7alt", "m11", "7#9", "m(maj7)", "7#5", "maj7#11", "7b13"),
        *("m6/9", "13b9", "aug", "sus4"),
    )
)
"""Kinds of chord in the order in which an accompanist meets them (common practice; the order is
ours)."""

_TRIAD: Final = 3
_SEVENTH: Final = 7
_INVERSIONS: Final = ("root", "1st", "2nd", "3rd", "4th")
_DEEPER: Final = 6
_SOONER: Final = 12
_LOWEST_C: Final = Note("C")
_USUAL_HAND: Final = Hand()


@attrs.frozen
class Gap:
    """Something that a vocabulary lacks.

    Args:
        quality: The kind of chord.
        group: The strings on which it is missing, or None for all.
        top: The degree that is never on top there, or None for any.
        rank: How early to fill it; the smallest first.
        bass: The degree that is never in the bass there, or None for any.

    Example:
        >>> Gap(QUALITIES["6"], None, None, 3).sentence
        'no major sixth'
    """

    quality: Quality
    group: StringGroup | None
    top: Degree | None
    rank: int
    bass: Degree | None = None

    @property
    def sentence(self) -> str:
        """The gap in words.

        Example:
            >>> inner = string_groups(6)[0]
            >>> print(Gap(QUALITIES["m7b5"], inner, Degree("11"), 0).sentence)
            no half-diminished with the 11 on top on the inner strings
            >>> print(Gap(QUALITIES["m7"], inner, None, 0, bass=Degree("b3")).sentence)
            no minor seventh with the b3 in the bass on the inner strings
        """
        words = f"no {quality_in_words(self.quality.name)}"
        if self.top is not None:
            words += f" with the {self.top} on top"
        if self.bass is not None:
            words += f" with the {self.bass} in the bass"
        return words if self.group is None else f"{words} on {self.group.words}"


def gaps(
    facts: Iterable[Facts],
    instrument: Instrument,
    *,
    hand: Hand = _USUAL_HAND,
    syllabus: Sequence[Quality] = SYLLABUS,
    sooner: Collection[str] = (),
    **conditions: Any,
) -> Iterator[Gap]:
    """What a vocabulary lacks on an instrument, the earliest to fill first.

    Args:
        facts: What is known of each grip that counts, those of this instrument alone.
        instrument: The instrument.
        hand: The hand; a gap that it cannot fill is none.
        syllabus: The kinds of chord, in the order in which they are met.
        sooner: Names of qualities that are wanted sooner, such as those of the tune at hand;
            where the syllabus lacks one, it is met last.
        **conditions: Conditions of the search, as in `find_voicings`.

    Yields:
        The gaps; each is looked for only when it is asked for.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> found = gaps([], guitar)
        >>> next(found).sentence, next(found).sentence
        ('no major seventh', 'no dominant seventh')
    """
    held = _Held.of(facts)
    named = {quality.name for quality in syllabus}
    extra = [QUALITIES[name] for name in sooner if name in QUALITIES and name not in named]
    lacking = _lacking(held, len(instrument.strings), (*syllabus, *extra))
    ranked = (
        attrs.evolve(gap, rank=gap.rank - _SOONER) if gap.quality.name in sooner else gap
        for gap in lacking
    )
    for gap in sorted(ranked, key=lambda gap: gap.rank):
        if len(grips_for(gap, instrument, hand=hand, **conditions)):
            yield gap


def grips_for(
    gap: Gap, instrument: Instrument, *, hand: Hand = _USUAL_HAND, **conditions: Any
) -> VoicingTable:
    """Movable grips on the root C that fill a gap, as a teacher would show them.

    A tension of the gap sounds on top alone.

    Args:
        gap: The gap.
        instrument: The instrument.
        hand: The hand.
        **conditions: Conditions of the search, as in `find_voicings`.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> inner = string_groups(6)[0]
        >>> table = grips_for(Gap(QUALITIES["m7b5"], inner, Degree("11"), 0), guitar)
        >>> table[0].shape, table[0].degrees
        ('x-6-4-3-6-x', ('b3', 'b5', 'b7', '11'))
    """
    groups = (gap.group,) if gap.group else _groups(gap.quality, len(instrument.strings))
    chord = Chord(_LOWEST_C, gap.quality)
    wanted = chord
    if gap.top is not None and gap.top not in chord.degrees:
        top = _LOWEST_C + gap.top.interval
        wanted = under_top(chord, Pitch(top, 4))
    for group in groups:
        asked: dict[str, Any] = {"strings": group.strings, "no_open": True, "no_doubles": True}
        if len(gap.quality.degrees) < len(group.strings):
            del asked["no_doubles"]
        if gap.top is not None:
            asked["top_degree"] = gap.top
        if gap.bass is not None:
            asked["bass_degree"] = gap.bass
        table = find_voicings(wanted, instrument, hand, **{**asked, **conditions})
        if wanted is not chord:
            table = _on_top_alone(table)
        if len(table):
            return table.order_by(teaching)
    return table


@attrs.frozen
class _Held:
    """Which strings, tops and inversions there are, by quality."""

    kinds: dict[str, set[tuple[tuple[int, ...], Degree, str]]]

    @classmethod
    def of(cls, facts: Iterable[Facts]) -> _Held:
        kinds: dict[str, set[tuple[tuple[int, ...], Degree, str]]] = defaultdict(set)
        for fact in facts:
            kinds[fact.category].add((fact.string_set, fact.top_degree, fact.inversion))
        return cls(kinds)


def _lacking(held: _Held, strings: int, syllabus: Sequence[Quality]) -> Iterator[Gap]:
    for place, quality in enumerate(syllabus):
        cells = held.kinds.get(quality.name)
        if not cells:
            yield Gap(quality, None, None, place)
            continue
        for later, group in enumerate(_groups(quality, strings)):
            here = [(top, bass) for sounding, top, bass in cells if group.holds(sounding)]
            if not here:
                yield Gap(quality, group, None, place + _DEEPER * (1 + later))
                continue
            tops = {top.pitch_class for top, _ in here}
            for nth, top in enumerate(_tops(quality)):
                if top.pitch_class not in tops:
                    yield Gap(quality, group, top, place + _DEEPER * (2 + later + nth))
            inversions = {inversion for _, inversion in here}
            # Later than the same step of a top: what is on top is heard first.
            for nth, (bass, name) in enumerate(_inversions(quality)):
                if name not in inversions:
                    rank = place + _DEEPER * (3 + later + nth)
                    yield Gap(quality, group, None, rank, bass=bass)


def _groups(quality: Quality, strings: int) -> tuple[StringGroup, ...]:
    """Triads are kept on groups of three strings, other chords on groups of four."""
    tones = len(quality.degrees)
    return string_groups(strings, _TRIAD) if tones <= _TRIAD else string_groups(strings)


def _tops(quality: Quality) -> tuple[Degree, ...]:
    """Degrees to have on top: the chord's own, then its tensions, once each by sound."""
    found: dict[int, Degree] = {}
    for degree in (*quality.degrees, *quality.tensions):
        found.setdefault(degree.pitch_class, degree)
    return tuple(found.values())


def _inversions(quality: Quality) -> Iterator[tuple[Degree, str]]:
    """Degrees to have in the bass, up to the seventh, with the names of their inversions."""
    for place, degree in enumerate(quality.degrees[: len(_INVERSIONS)]):
        if degree.number <= _SEVENTH:
            yield degree, _INVERSIONS[place]


def _on_top_alone(table: VoicingTable) -> VoicingTable:
    """The rows whose top note's tone sounds nowhere else."""
    top = table.columns["top_midi"]
    keep = np.ones(len(table), bool)
    for sounds, pitch in sounding_pitches(table.pairs):
        same = sounds & ((pitch - top) % SEMITONES_IN_OCTAVE == 0)
        keep &= ~same | (pitch == top)
    return table[np.flatnonzero(keep)]
