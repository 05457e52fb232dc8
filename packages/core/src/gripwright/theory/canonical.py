"""Canonical suffixes: one way to write each chord quality, found from its tones alone.

Equal chords are written alike, however they were read.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from typing import Final

from gripwright.theory.degree import Degree
from gripwright.theory.modifier import ADDITIONS, ALTERATIONS, Modifier, tones_of
from gripwright.theory.quality import QUALITIES, Groups, Quality

_CHANGES: Final = {"suspend": 0, "alter": 0, "add": 1, "omit": 2}
_SUSPENDED: Final = frozenset({"2", "4"})


@functools.cache
def _names_by_tones() -> dict[tuple[tuple[Degree, ...], Groups], Quality]:
    table: dict[tuple[tuple[Degree, ...], Groups], Quality] = {}
    for quality in QUALITIES.values():
        table.setdefault((quality.degrees, quality.essential), quality)
    return table


def canonical_quality(degrees: tuple[Degree, ...], essential: Groups) -> Quality:
    """The quality of these tones, named in the one way in which it is written.

    A quality of the table keeps its name; any other is the table's quality that needs the fewest
    modifiers, rather alterations than additions than omissions, and what they put in as high as
    can be, so that they follow in order: suspensions, alterations, additions, omissions.

    Args:
        degrees: Degrees in order.
        essential: The groups of which one tone each must sound.

    Returns:
        A quality with those degrees and groups.

    Raises:
        LookupError: No quality of the table and no modifiers give these tones.

    Example:
        >>> from gripwright.theory.quality import QUALITIES
        >>> tones = tones_of(QUALITIES["maj7"], [Modifier("omit", Degree("3"))])
        >>> canonical_quality(*tones).name
        'maj7no3'
    """
    known = _names_by_tones().get((degrees, essential))
    if known is not None:
        return known
    best: tuple[tuple[int, int, int], Quality, tuple[Modifier, ...]] | None = None
    for quality in QUALITIES.values():
        modifiers = tuple(_difference(quality, degrees, essential))
        changed = sum(_CHANGES[modifier.kind] for modifier in modifiers)
        placed = [modifier.tone.steps for modifier in modifiers if modifier.kind != "omit"]
        weight = len(modifiers), changed, -min(placed, default=0)
        if best is not None and weight >= best[0]:
            continue
        if not all(map(_writable, modifiers)) or _means_another(quality, modifiers):
            continue
        if tones_of(quality, modifiers) == (degrees, essential):
            best = weight, quality, modifiers
    if best is None:
        message = f"no chord symbol writes the tones {' '.join(degrees)}"
        raise LookupError(message)
    _, quality, modifiers = best
    classes = {degree.pitch_class for degree in degrees}
    numbers = {degree.number for degree in degrees if degree.alteration}
    return Quality(
        name=_write(quality.name, modifiers),
        degrees=degrees,
        essential=essential,
        tensions=tuple(
            tension
            for tension in quality.tensions
            if tension.pitch_class not in classes and tension.number not in numbers
        ),
        avoid=tuple(tone for tone in quality.avoid if tone not in degrees),
    )


def _difference(
    quality: Quality, degrees: tuple[Degree, ...], essential: Groups
) -> Iterator[Modifier]:
    """The modifiers that would turn the quality into these tones, if any can."""
    suspensions = [
        Modifier("suspend", tone)
        for tone in degrees
        if tone in _SUSPENDED and tone not in quality.degrees
    ]
    yield from suspensions
    own, own_groups = tones_of(quality, suspensions)
    singles = {group[0] for group in essential if len(group) == 1}
    own_singles = {group[0] for group in own_groups if len(group) == 1}
    naturals = {tone.number for tone in degrees if not tone.alteration}
    replaced = set()
    for tone in degrees:
        if tone in own and (tone not in singles - own_singles or tone.number == 1):
            continue
        if tone.alteration and tone.number not in naturals:
            replaced.add(tone.number)
            yield Modifier("alter", tone)
        else:
            yield Modifier("add", tone)
    for tone in own:
        # An alteration takes the place of the natural tone alone.
        if tone not in degrees and (tone.alteration or tone.number not in replaced):
            yield Modifier("omit", tone)


def _writable(modifier: Modifier) -> bool:
    if modifier.kind == "alter":
        return modifier.tone in ALTERATIONS
    return modifier.kind != "add" or modifier.tone in ADDITIONS


def _means_another(quality: Quality, modifiers: tuple[Modifier, ...]) -> bool:
    """Whether the name with its suspension is an alias, which may mean other tones."""
    suspensions = tuple(m for m in modifiers if m.kind == "suspend")
    return bool(suspensions) and _write(quality.name, suspensions) in _aliases()


@functools.cache
def _aliases() -> frozenset[str]:
    return frozenset(alias for quality in QUALITIES.values() for alias in quality.aliases)


def _write(name: str, modifiers: tuple[Modifier, ...]) -> str:
    by_kind = {
        kind: [modifier.tone for modifier in modifiers if modifier.kind == kind]
        for kind in ("suspend", "alter", "add", "omit")
    }
    suspended = "sus" + "".join(by_kind["suspend"]) if by_kind["suspend"] else ""
    altered = "".join(by_kind["alter"])
    if altered and not name and not suspended:
        altered = f"({altered})"
    added = "".join(f"add{tone}" for tone in by_kind["add"])
    if name.endswith("m") and added and not suspended and not altered:
        added = f"({added})"
    omitted = "".join(f"no{number}" for number in dict.fromkeys(t.number for t in by_kind["omit"]))
    return f"{name}{suspended}{altered}{added}{omitted}"
