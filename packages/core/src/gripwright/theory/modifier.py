"""Modifiers: what alterations, added tones, suspensions and omissions do to a quality."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, Literal

import attrs

from gripwright.theory.degree import Degree
from gripwright.theory.quality import Groups, Quality, essential_groups, in_order, minimal

ModifierKind = Literal["suspend", "alter", "add", "omit"]

ALTERATIONS: Final = frozenset(map(Degree, ("b5", "#5", "b6", "b9", "#9", "#11", "b13")))
"""Tones that a symbol can alter."""

ADDITIONS: Final = ALTERATIONS | frozenset(map(Degree, ("3", "6", "9", "11", "13")))
"""Tones that a symbol can add."""

_THIRD: Final = 3
_SEVENTH: Final = 7
_ROOT: Final = Degree("1")
_SIXTH: Final = Degree("6")
_THIRTEENTH: Final = Degree("13")
_SUSPENDED_AS: Final = {Degree("2"): Degree("9"), Degree("4"): Degree("11")}


@attrs.frozen
class Modifier:
    """One change to a quality.

    Args:
        kind: ``suspend`` puts the tone in place of the third; ``alter`` puts it in place of the
            natural tone of its number; ``add`` adds it; ``omit`` takes out every tone of its
            number but those altered and added.
        tone: The degree concerned; of an omission only the number counts.

    Example:
        >>> Modifier("alter", Degree("b9"))
        Modifier(kind='alter', tone='b9')
    """

    kind: ModifierKind
    tone: Degree


def tones_of(quality: Quality, modifiers: Sequence[Modifier]) -> tuple[tuple[Degree, ...], Groups]:
    """Degrees and essential groups of a quality under modifiers, in whatever order they stand.

    Suspensions come first, then alterations, additions and omissions, which spare what was
    altered or added: ``7no5add#5`` is ``7#5``. A suspended 4 takes the place of an 11 and a 2
    that of a 9, since they are the same tone. An added 6 beside a seventh is a 13.

    Args:
        quality: The quality to change.
        modifiers: The changes.

    Returns:
        Degrees in order, empty where everything is omitted, and groups of them.

    Example:
        >>> from gripwright.theory.quality import QUALITIES
        >>> tones_of(QUALITIES["7"], [Modifier("alter", Degree("b5"))])
        (('1', '3', 'b5', 'b7'), (('3',), ('b5',), ('b7',)))
    """
    suspended = _tones("suspend", modifiers)
    altered = _tones("alter", modifiers)
    added = _tones("add", modifiers)
    omitted = {tone.number for tone in _tones("omit", modifiers)}
    tones = set(quality.degrees) - {_SUSPENDED_AS[tone] for tone in suspended}
    if suspended:
        tones = {tone for tone in tones if tone.number != _THIRD}
    replaced = {tone.number for tone in altered}
    tones = {tone for tone in tones if tone.alteration or tone.number not in replaced}
    tones |= suspended
    if any(tone.number == _SEVENTH for tone in tones):
        added = {_THIRTEENTH if tone == _SIXTH else tone for tone in added}
    put_in = altered | added
    kept = {tone for tone in tones if tone.number not in omitted}
    degrees = in_order(kept | put_in)
    named = (quality.named | put_in) & set(degrees)
    groups = essential_groups(degrees, named)
    if quality.own_groups:
        singles = (group for group in groups if group[0] in named | suspended | {_ROOT})
        groups = minimal([*quality.essential, *singles], degrees)
    return degrees, groups


def _tones(kind: ModifierKind, modifiers: Iterable[Modifier]) -> set[Degree]:
    return {modifier.tone for modifier in modifiers if modifier.kind == kind}
