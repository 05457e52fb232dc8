"""Categories: a vocabulary sorted by kind of chord, with counts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Final, TypeVar

import attrs

from gripwright.theory.degree import Degree
from gripwright.theory.quality import QUALITIES
from gripwright.vocabulary.entry import Facts, category_in_words

_T = TypeVar("_T")
_PLACES: Final = {name: place for place, name in enumerate(QUALITIES)}


@attrs.frozen
class Category:
    """The grips of one kind of chord, counted.

    Args:
        name: Name of the category, as `gripwright.vocabulary.entry.category_of` has it.
        count: Grips in all.
        families: How many belong to each family, the most first; a grip may belong to several.
        string_sets: How many sound each set of strings, the most first.
        tops: How many have each degree on top, the most first.
        inversions: How many stand in each inversion, the most first.

    Example:
        >>> Category("m7b5", 2, (("drop-2", 2),), (((5, 4, 3, 2), 2),), (), ()).families
        (('drop-2', 2),)
    """

    name: str
    count: int
    families: tuple[tuple[str, int], ...]
    string_sets: tuple[tuple[tuple[int, ...], int], ...]
    tops: tuple[tuple[Degree, int], ...]
    inversions: tuple[tuple[str, int], ...]

    @property
    def sentence(self) -> str:
        """The category in words.

        Example:
            >>> print(Category("m7b5", 2, (), (), ((Degree("b3"), 2),), ()).sentence)
            half-diminished: 2 grips, on top b3
        """
        several = "" if self.count == 1 else "s"
        tops = ", ".join(top for top, _ in self.tops)
        return f"{category_in_words(self.name)}: {self.count} grip{several}, on top {tops}"


def categories(facts: Iterable[Facts]) -> tuple[Category, ...]:
    """A vocabulary by kind of chord, in the order of the table of qualities.

    Args:
        facts: What is known of each grip that counts.

    Example:
        >>> from gripwright import Chord, Instrument, Voicing
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> grips = {"Cmaj7": (-1, 3, 5, 4, 5, -1), "Bm7b5": (-1, 2, 3, 2, 3, -1)}
        >>> known = [Voicing(Chord.parse(name), guitar, grips[name]) for name in grips]
        >>> [one.sentence for one in categories(map(Facts.of, known))]
        ['major seventh: 1 grip, on top 3', 'half-diminished: 1 grip, on top b3']
    """
    kinds: dict[str, list[Facts]] = {}
    for fact in facts:
        kinds.setdefault(fact.category, []).append(fact)
    ordered = sorted(kinds, key=_order)
    return tuple(_counted(name, kinds[name]) for name in ordered)


def _order(name: str) -> tuple[int, str]:
    return _PLACES.get(name.partition("/+")[0], len(_PLACES)), name


def _counted(name: str, facts: list[Facts]) -> Category:
    return Category(
        name=name,
        count=len(facts),
        families=tuple(_most(family for fact in facts for family in fact.families)),
        string_sets=tuple(_most(fact.string_set for fact in facts)),
        tops=tuple(_most(fact.top_degree for fact in facts)),
        inversions=tuple(_most(fact.inversion for fact in facts)),
    )


def _most(values: Iterable[_T]) -> list[tuple[_T, int]]:
    """Each value with its count, the most frequent first, equal ones in order of value."""
    return sorted(Counter(values).items(), key=lambda pair: (-pair[1], str(pair[0])))
