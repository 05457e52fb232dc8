"""Chord qualities: the tones above a root, and which of them must sound.

The table is data, `qualities.toml`; this module reads it and holds the rule of essential tones.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Iterable, Mapping
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Final

import attrs

from gripwright.theory.degree import Degree

Groups = tuple[tuple[Degree, ...], ...]
"""Sets of degrees, of each of which at least one must sound."""

_THIRD: Final = 3
_ALTERED: Final = frozenset({5, 6, 9, 11, 13})
_SEVENTH: Final = 7
_SIXTH: Final = "6"
_SUSPENDED: Final = frozenset({"2", "4"})


@attrs.frozen
class Quality:
    """What stands after the root of a chord: its degrees and what is essential among them.

    Two qualities of the same degrees and essential groups are equal, whatever they are called.

    Args:
        name: Canonical suffix, such as ``"m7b5"``; empty for the major triad.
        degrees: The tones in order of their place above the root.
        essential: Groups of degrees; of each at least one must sound.
        tensions: Degrees that may colour the chord.
        avoid: Degrees that hide it.
        aliases: Other suffixes that mean it.
        scale: Name of its usual scale, where it is not the first that holds its tones.
        named: Degrees that the suffix names, and which must sound for that reason.
        own_groups: Whether `essential` is the quality's own and not the general rule's.

    Example:
        >>> QUALITIES["m7b5"].degrees
        ('1', 'b3', 'b5', 'b7')
        >>> QUALITIES["9"].essential
        (('3',), ('b7',), ('9',))
    """

    name: str = attrs.field(eq=False)
    degrees: tuple[Degree, ...]
    essential: Groups
    tensions: tuple[Degree, ...] = attrs.field(default=(), eq=False)
    avoid: tuple[Degree, ...] = attrs.field(default=(), eq=False)
    aliases: tuple[str, ...] = attrs.field(default=(), eq=False)
    scale: str | None = attrs.field(default=None, eq=False)
    named: frozenset[Degree] = attrs.field(default=frozenset(), eq=False)
    own_groups: bool = attrs.field(default=False, eq=False)

    @classmethod
    def from_row(cls, row: Mapping[str, Any]) -> Quality:
        """A quality from a row of the table.

        Args:
            row: The keys that `qualities.toml` explains; ``name`` and ``degrees`` are needed.

        Example:
            >>> Quality.from_row({"name": "7", "degrees": "1 3 5 b7"}).essential
            (('3',), ('b7',))
        """
        degrees = in_order(_degrees(row["degrees"]))
        named = frozenset(_degrees(row.get("number", "")))
        own = tuple(_degrees(group) for group in row.get("essential", ()))
        return cls(
            name=row["name"],
            degrees=degrees,
            essential=minimal(own, degrees) if own else essential_groups(degrees, named),
            tensions=_degrees(row.get("tensions", "")),
            avoid=_degrees(row.get("avoid", "")),
            aliases=tuple(row.get("aliases", ())),
            scale=row.get("scale"),
            named=named,
            own_groups=bool(own),
        )


def in_order(degrees: Iterable[Degree]) -> tuple[Degree, ...]:
    """Degrees once each, by number and then from flat to sharp.

    Example:
        >>> in_order([Degree("9"), Degree("#5"), Degree("b5")])
        ('b5', '#5', '9')
    """
    return tuple(sorted(set(degrees), key=lambda degree: (degree.steps, degree.semitones)))


def essential_groups(degrees: Iterable[Degree], named: Iterable[Degree]) -> Groups:
    """The tones that must sound for the ear to hear the chord.

    The third, or each of 4 and 2 in its stead; the seventh and the sixth; every altered tone,
    since only a symbol that names it brings it; whatever else the symbol names; and the root
    where there is no seventh and no sixth (common practice).

    Args:
        degrees: The chord's degrees.
        named: Degrees that the symbol names: its number and added tones.

    Returns:
        Groups of one degree each, in order of degree.

    Example:
        >>> essential_groups([Degree("1"), Degree("b3"), Degree("5")], [])
        (('1',), ('b3',))
    """
    tones = in_order(degrees)
    rooted = not any(degree.number == _SEVENTH or degree == _SIXTH for degree in tones)
    wanted = set(named)
    for degree in tones:
        if (
            degree.number in {_THIRD, _SEVENTH}
            or degree == _SIXTH
            or degree in _SUSPENDED
            or (degree.number in _ALTERED and degree.alteration)
            or (degree.number == 1 and rooted)
        ):
            wanted.add(degree)
    return tuple((degree,) for degree in tones if degree in wanted)


def minimal(groups: Iterable[Iterable[Degree]], degrees: tuple[Degree, ...]) -> Groups:
    """Groups without tones that the chord lacks, and without those that another group implies.

    Example:
        >>> tones = tuple(map(Degree, ("1", "b5", "#5")))
        >>> minimal([(Degree("b5"), Degree("#5")), (Degree("#5"),)], tones)
        (('#5',),)
    """
    sets = {frozenset(group) & frozenset(degrees) for group in groups} - {frozenset()}
    kept = (group for group in sets if not any(other < group for other in sets))
    ordered = (tuple(degree for degree in degrees if degree in group) for group in kept)
    return tuple(sorted(ordered, key=lambda group: [degrees.index(degree) for degree in group]))


def _degrees(text: str) -> tuple[Degree, ...]:
    return tuple(Degree(degree) for degree in text.split())


@functools.cache
def _table() -> Mapping[str, Quality]:
    text = files("gripwright.theory").joinpath("qualities.toml").read_text(encoding="utf-8")
    rows = (Quality.from_row(row) for row in tomllib.loads(text)["quality"])
    return MappingProxyType({quality.name: quality for quality in rows})


QUALITIES: Final[Mapping[str, Quality]] = _table()
"""Every known quality by its canonical name, in the order in which names are preferred."""
