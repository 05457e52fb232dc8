"""Tables of voicings: rows in NumPy columns, made into objects only when looked at."""

from __future__ import annotations

import functools
from collections.abc import Callable, Collection, Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final, Protocol, overload

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright.errors import ConditionError, UnknownNameError
from gripwright.named import nearest_names
from gripwright.neck.classify import families
from gripwright.neck.fingered import finger_rows
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.pairs import Neck, Pairs
from gripwright.neck.settle import inner_mutes, sounding_pitches
from gripwright.neck.strain import USUAL_WEIGHTS, StrainWeights
from gripwright.neck.tones import TONES_IN_MASK
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

Column = NDArray[Any]


class Order(Protocol):
    """An order of voicings: columns to sort by, the weightiest first."""

    def keys(self, table: VoicingTable, /) -> tuple[Column, ...]:
        """Columns of (rows,), of which smaller values come first."""


@attrs.frozen(eq=False)
class VoicingTable:
    """Voicings of one chord on one instrument.

    A table is a sequence of `Voicing`. Conditions, orders and slices give tables, so that they
    chain; rows become objects only when looked at.

    Args:
        pairs: The shapes.
        presses: (rows,) int8, the fewest presses that hold each.

    Example:
        >>> from gripwright import find_voicings, ranking
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> table = find_voicings(Chord.parse("Dm9"), guitar)
        >>> best = table.where(top_degree="9").order_by(ranking.ease)[:20]
        >>> len(best), best[0].top_degree
        (20, '9')
        >>> table.frets.dtype, table.frets.shape[1]
        (dtype('int8'), 6)
    """

    pairs: Pairs
    presses: NDArray[np.int8]
    _kept: dict[str, Column] = attrs.field(factory=dict, init=False, repr=False)

    @classmethod
    def joining(cls, neck: Neck, parts: list[tuple[Pairs, NDArray[np.int8]]]) -> VoicingTable:
        """One table of consecutive parts of a search."""
        none = np.zeros(0, np.int32)
        lefts = np.concatenate([none, *(pairs.lefts for pairs, _ in parts)])
        rights = np.concatenate([none, *(pairs.rights for pairs, _ in parts)])
        presses = np.concatenate([np.zeros(0, np.int8), *(presses for _, presses in parts)])
        return cls(Pairs(neck, lefts, rights), presses)

    @property
    def chord(self) -> Chord:
        """The chord that the rows voice."""
        return self.pairs.neck.chord

    @property
    def instrument(self) -> Instrument:
        """The instrument."""
        return self.pairs.neck.instrument

    @property
    def frets(self) -> NDArray[np.int8]:
        """Shapes, (rows, strings) int8: muted -1, open 0, or a fret; bass side first.

        The array is read-only and stored string by string.
        """
        frets = self._kept.get("frets")
        if frets is None:
            frets = np.stack(self.pairs.columns()).T
            frets.setflags(write=False)
            self._kept["frets"] = frets
        return frets

    @property
    def columns(self) -> Mapping[str, Column]:
        """What is known of each row, as a mapping of names to (rows,) arrays.

        ``reach_mm`` (float64), ``presses``, ``notes``, ``tones``, ``open_strings``,
        ``inner_mutes``, ``lowest_fret`` and ``highest_fret`` of fretted strings (int8, 0 where
        none), ``bass_midi`` and ``top_midi`` (int16), ``bass_degree`` and ``top_degree``
        (text). Columns are worked out when first asked for.
        """
        return _Columns(self)

    def column(self, name: str) -> Column:
        """One column of `columns`.

        Raises:
            UnknownNameError: There is no such column.
        """
        column = self._kept.get(name)
        if column is None:
            if name not in _COLUMNS:
                raise UnknownNameError(
                    kind="column", name=name, nearest=nearest_names(name, _COLUMNS)
                )
            column = _COLUMNS[name](self)
            if column.dtype.kind != "U":
                self._kept[name] = column
        return column

    def __len__(self) -> int:
        return len(self.pairs)

    def __iter__(self) -> Iterator[Voicing]:
        return (self[row] for row in range(len(self)))

    @overload
    def __getitem__(self, index: int) -> Voicing: ...
    @overload
    def __getitem__(self, index: slice | NDArray[np.generic]) -> VoicingTable: ...
    def __getitem__(self, index: int | slice | NDArray[np.generic]) -> Voicing | VoicingTable:
        if isinstance(index, slice | np.ndarray):
            return VoicingTable(self.pairs.take(index), self.presses[index])
        neck = self.pairs.neck
        left, right = self.pairs.lefts[index], self.pairs.rights[index]
        frets = (*neck.left.frets[:, left].tolist(), *neck.right.frets[:, right].tolist())
        return Voicing(neck.chord, neck.instrument, frets, neck.names)

    def families(self) -> dict[str, NDArray[np.bool_]]:
        """For each family of voicings the rows that belong to it, by what sounds.

        Returns:
            (rows,) boolean arrays by name of the family.

        Example:
            >>> from gripwright import find_voicings
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
            >>> table = find_voicings(Chord.parse("Cmaj7"), guitar)
            >>> int(table.families()["drop-2"].sum())
            96
        """
        neck = self.pairs.neck
        return families(sounding_pitches(self.pairs), neck.chord)

    def fingers(
        self, hand: Hand | None = None, weights: StrainWeights = USUAL_WEIGHTS
    ) -> NDArray[np.int8]:
        """The finger on each string: 1 index to 4 little, 0 where none presses.

        Args:
            hand: The hand; the usual one if not given, with a fifth finger where a row needs it.
            weights: What strains the hand.

        Returns:
            (rows, strings) int8.

        Example:
            >>> from gripwright import find_voicings
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
            >>> table = find_voicings(Chord.parse("C"), guitar, highest_fret=3, max_notes=5)
            >>> table.where(open_strings=2, notes=5, bass_degree="1").fingers()[0].tolist()
            [0, 3, 2, 0, 1, 0]
        """
        return finger_rows(self.pairs.columns(), self.instrument, hand, weights).fingers

    def strain(
        self, weights: StrainWeights = USUAL_WEIGHTS, hand: Hand | None = None
    ) -> NDArray[np.float64]:
        """How much each row strains the hand, in the unit of `gripwright.neck.strain`.

        Args:
            weights: What strains the hand.
            hand: The hand; the usual one if not given, with a fifth finger where a row needs it.

        Returns:
            (rows,) float64.
        """
        return finger_rows(self.pairs.columns(), self.instrument, hand, weights).strain

    def _repr_html_(self) -> str:
        """The first voicings as a table of diagrams, as notebooks show it."""
        # Late on purpose: pictures are for notebooks, and start-up must not load them.
        from gripwright.neck.diagram.notebook import table_html  # noqa: PLC0415

        return table_html(self, len(self))

    def where(self, **conditions: object) -> VoicingTable:
        """The rows whose columns have given values.

        Args:
            **conditions: For each column a value, a collection of values, or a function from
                the column to a boolean array.

        Raises:
            UnknownNameError: There is no such column.
            ConditionError: A function that does not give one boolean a row.

        Example:
            >>> from gripwright import find_voicings
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
            >>> table = find_voicings(Chord.parse("Dm9"), guitar)
            >>> near = table.where(reach_mm=lambda reach: reach < 60, notes={4, 5})
            >>> bool((near.columns["reach_mm"] < 60).all())
            True
        """
        keep = np.ones(len(self), bool)
        for name, wanted in conditions.items():
            keep &= _matches(name, self.column(name), wanted)
        return self[np.flatnonzero(keep)]

    def order_by(self, order: Order) -> VoicingTable:
        """The same rows in an order of `gripwright.neck.ranking`, or one's own.

        Rows that the order holds equal stand in lexicographic order of frets, so that every
        order is total.

        Args:
            order: Anything with ``keys(table)``, columns of which the weightiest comes first.
        """
        keys = (*order.keys(self), self.pairs.lefts, self.pairs.rights)
        return self[np.lexsort(keys[::-1])]


class _Columns(Mapping[str, Column]):
    """The columns of a table; each is worked out when asked for."""

    def __init__(self, table: VoicingTable) -> None:
        self._table = table

    def __getitem__(self, name: str) -> Column:
        return self._table.column(name)

    def __iter__(self) -> Iterator[str]:
        return iter(_COLUMNS)

    def __len__(self) -> int:
        return len(_COLUMNS)


def _matches(name: str, column: Column, wanted: object) -> Column:
    if callable(wanted):
        keep = np.asarray(wanted(column))
        if keep.dtype != bool or keep.shape != column.shape:
            raise ConditionError(
                name=name, value=wanted, expected="a function that gives one boolean a row"
            )
        return keep
    if isinstance(wanted, Collection) and not isinstance(wanted, str):
        return np.isin(column, list(wanted))
    return np.asarray(column == wanted)


def _degrees(midi: NDArray[np.int16], table: VoicingTable) -> Column:
    neck = table.pairs.neck
    root = neck.chord.root.pitch_class
    highest = int(midi.max(initial=0))
    names = [neck.names[(number - root) % SEMITONES_IN_OCTAVE] for number in range(highest + 1)]
    return np.array([str(name or "") for name in names]).take(midi)


def _lowest_fret(table: VoicingTable) -> Column:
    # Below 0, what is not fretted becomes the largest of unsigned numbers.
    above = functools.reduce(np.minimum, ((column - 1).view(np.uint8) for column in table.frets.T))
    lowest = (above + np.uint8(1)).astype(np.int8)
    fretted: Column = np.maximum(lowest, np.int8(0))
    return fretted


def _highest_fret(table: VoicingTable) -> Column:
    highest: Column = np.maximum(functools.reduce(np.maximum, table.frets.T), np.int8(0))
    return highest


def _count(masks: list[NDArray[np.bool_]]) -> Column:
    return functools.reduce(np.add, (mask.view(np.int8) for mask in masks))


_COLUMNS: Final[Mapping[str, Callable[[VoicingTable], Column]]] = MappingProxyType(
    {
        "reach_mm": lambda table: table.pairs.reach_mm(),
        "presses": lambda table: table.presses,
        "notes": lambda table: table.pairs.notes(),
        "tones": lambda table: TONES_IN_MASK[table.pairs.mask()],
        "open_strings": lambda table: _count([column == 0 for column in table.frets.T]),
        "inner_mutes": lambda table: _count(inner_mutes(list(table.frets.T))),
        "lowest_fret": _lowest_fret,
        "highest_fret": _highest_fret,
        "bass_midi": lambda table: table.pairs.low(),
        "top_midi": lambda table: table.pairs.high(),
        "bass_degree": lambda table: _degrees(table.column("bass_midi"), table),
        "top_degree": lambda table: _degrees(table.column("top_midi"), table),
    }
)
