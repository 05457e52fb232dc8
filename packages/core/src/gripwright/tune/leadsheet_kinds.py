"""Kinds of harmony in MusicXML: what each means, and which one says what a chord is.

The table is data, `leadsheet_kinds.toml`.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from importlib.resources import files
from typing import Final

import attrs

from gripwright.theory.degree import Degree
from gripwright.theory.quality import Quality
from gripwright.theory.symbol import default_reader

NONE: Final = "none"
"""The kind of N.C."""

OTHER: Final = "other"
"""The kind whose tones its degrees alone say."""

_SEVENTH: Final = 7
_FLAT_SEVENTH: Final = -1
_MOST_STACKED: Final = 9


@attrs.frozen
class KindTable:
    """The table of kinds.

    Args:
        kinds: The quality of each kind.
        open: The kinds whose tones the schema leaves open.
        lenient: Kinds that files carry and the schema does not know, and what they mean.
    """

    kinds: Mapping[str, Quality]
    open: frozenset[str]
    lenient: Mapping[str, str]

    def settle(self, text: str) -> str | None:
        """The kind of the schema that a text means, or None.

        Example:
            >>> kind_table().settle("Dominant seventh")
            'dominant'
        """
        folded = text.strip().lower().replace(" ", "-").replace("_", "-")
        by_lower = {kind.lower(): kind for kind in (*self.kinds, NONE)}
        return by_lower.get(folded) or self.lenient.get(folded)


@functools.cache
def kind_table() -> KindTable:
    """The table of the library.

    Example:
        >>> kind_table().kinds["half-diminished"].name
        'm7b5'
        >>> "Tristan" in kind_table().open
        True
    """
    text = files("gripwright.tune").joinpath("leadsheet_kinds.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    suffixes = data["kinds"] | data["open"]
    return KindTable(
        kinds={
            kind: default_reader().read(f"C{suffix}").quality for kind, suffix in suffixes.items()
        },
        open=frozenset(data["open"]),
        lenient=data["lenient"],
    )


@attrs.frozen
class DegreeChange:
    """A degree element: one change to the tones of a kind.

    Args:
        type: ``add``, ``alter`` or ``subtract``.
        value: The number of the degree, 1 to 13.
        alter: Semitones. Of an added degree, above or below that of a dominant thirteenth, whose
            seventh is minor; of an altered one, above or below the chord's own (MusicXML 4.0,
            degree-alter).
    """

    type: str
    value: int
    alter: int = 0

    @property
    def from_major(self) -> int:
        """The alteration of an added degree, above or below the tone of the major scale."""
        return self.alter + (_FLAT_SEVENTH if self.value == _SEVENTH else 0)

    @classmethod
    def adding(cls, tone: Degree) -> DegreeChange:
        """The change that adds a tone.

        Example:
            >>> DegreeChange.adding(Degree("7")).alter, DegreeChange.adding(Degree("b9")).alter
            (1, -1)
        """
        usual = _FLAT_SEVENTH if tone.number == _SEVENTH else 0
        return cls("add", tone.number, tone.alteration - usual)


def changes_between(quality: Quality, degrees: tuple[Degree, ...]) -> tuple[DegreeChange, ...]:
    """The changes that make the tones of a chord of those of a quality.

    Example:
        >>> from gripwright.theory import QUALITIES
        >>> tones = tuple(map(Degree, ("1", "3", "#5", "b7", "b9")))
        >>> for change in changes_between(QUALITIES["7"], tones):
        ...     print(change.type, change.value, change.alter)
        alter 5 1
        add 9 -1
    """
    missing = [tone for tone in quality.degrees if tone not in degrees]
    extra = [tone for tone in degrees if tone not in quality.degrees]
    changes = []
    for tone in missing:
        twin = next((other for other in extra if other.number == tone.number), None)
        if twin is None:
            changes.append(DegreeChange("subtract", tone.number))
        else:
            extra.remove(twin)
            shift = twin.alteration - tone.alteration
            changes.append(DegreeChange("alter", tone.number, shift))
    return (*changes, *map(DegreeChange.adding, extra))


@functools.cache
def spell_kind(degrees: tuple[Degree, ...]) -> tuple[str, tuple[DegreeChange, ...]]:
    """The kind and the changes that write a chord.

    A chord that is a kind in the trade's sense is written as that kind alone. Any other starts
    from a kind of at most a ninth, on which schema and trade agree, with the fewest changes; a
    subtraction counts twice.

    Args:
        degrees: The tones of the chord.

    Returns:
        The kind and its changes.

    Example:
        >>> from gripwright.theory import QUALITIES
        >>> spell_kind(QUALITIES["13"].degrees)
        ('dominant-13th', ())
        >>> spell_kind(QUALITIES["7b9"].degrees)
        ('dominant', (DegreeChange(type='add', value=9, alter=-1),))
    """
    table = kind_table()
    best: tuple[str, tuple[DegreeChange, ...]] | None = None
    for kind, quality in table.kinds.items():
        if kind in table.open or kind == "pedal":
            continue
        changes = changes_between(quality, degrees)
        if not changes and kind != OTHER:
            return kind, ()
        stacked = quality.degrees[-1].number > _MOST_STACKED
        if not stacked and (best is None or _weight(changes) < _weight(best[1])):
            best = kind, changes
    # The major triad is always a candidate.
    return best or (OTHER, changes_between(table.kinds[OTHER], degrees))


def _weight(changes: tuple[DegreeChange, ...]) -> int:
    return sum(2 if change.type == "subtract" else 1 for change in changes)
