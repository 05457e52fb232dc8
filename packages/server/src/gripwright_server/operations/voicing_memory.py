"""What the rows of a table of voicings share, worked out once and kept within bounds.

Columns that take long are worked out for some thousand rows at once. A row is put together from
two halves of the neck, of which a table has few: what the strings of a half sound is worked out
once, and so is its text. Kept are two blocks of rows a table, and all that was learnt of the eight
tables that were read last: a few megabytes in all.
"""

import functools
import operator
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Final, Generic, TypeVar, cast

import attrs

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from gripwright import Voicing, VoicingTable

K = TypeVar("K")
V = TypeVar("V")

Names = tuple[str, ...]

BLOCK: Final = 4096
"""Rows of a block."""

_BLOCKS: Final = 2
_MOST_LEARNT: Final = 2048
_TABLES: Final = 8


Numbers = tuple[bytes, bytes, bytes, float, int, str, str, int]
"""What differs from row to row.

The keys of its left half, its right half and its fingers, int8 of strings side by side; the reach
in mm and the presses; the degrees of bass and top; the key of its families, a bit for each.
"""


@attrs.frozen(eq=False)
class Block:
    """Columns of some thousand rows.

    Args:
        cut: The string before which a shape is cut in two.
        frets: (rows, strings) int8.
        fingers: (rows, strings) int8, 0 where none presses.
        reach_mm: (rows,) float64, to a tenth.
        presses: (rows,) int8.
        bass_degree: (rows,) text.
        top_degree: (rows,) text.
        families: (rows,) uint32, a bit for each family.
    """

    cut: int
    frets: "NDArray[np.int8]"
    fingers: "NDArray[np.int8]"
    reach_mm: "NDArray[np.float64]"
    presses: "NDArray[np.int8]"
    bass_degree: "NDArray[np.str_]"
    top_degree: "NDArray[np.str_]"
    families: "NDArray[np.uint32]"

    def numbers(self, first: int, last: int) -> Iterator[Numbers]:
        """Those of the rows from `first` to before `last`."""
        strings, cut = self.frets.shape[1], self.cut
        frets, fingers = self.frets[first:last].tobytes(), self.fingers[first:last].tobytes()
        starts = range(0, len(frets), strings)
        return zip(
            [frets[start : start + cut] for start in starts],
            [frets[start + cut : start + strings] for start in starts],
            [fingers[start : start + strings] for start in starts],
            self.reach_mm[first:last].tolist(),
            self.presses[first:last].tolist(),
            self.bass_degree[first:last].tolist(),
            self.top_degree[first:last].tolist(),
            self.families[first:last].tolist(),
            strict=True,
        )


@attrs.frozen
class Tone:
    """What one string sounds at one fret.

    Args:
        pitch: Its pitch.
        degree: Its degree.
        bit: A bit for its pitch class above the root.
        added: Whether the symbol has no such tone.
    """

    pitch: str
    degree: str
    bit: int
    added: bool


@attrs.frozen
class Half:
    """What the strings of one half of the neck do; the texts are JSON without its brackets.

    Args:
        added: Degrees that are not in the symbol.
        sounding: A bit for each pitch class above the root that sounds.
    """

    frets: tuple[int | None, ...]
    pitches: Names
    degrees: Names
    added: Names
    sounding: int
    string_set: tuple[int, ...]
    notes: int
    open_strings: int
    shape: str
    fret_text: str
    pitch_text: str
    degree_text: str
    string_text: str


@attrs.frozen
class Written(Generic[V]):
    """A value and its JSON."""

    value: V
    text: str


@attrs.frozen
class Difference:
    """What a voicing adds to the symbol and leaves out of it, and these two members as JSON."""

    added: Names
    left_out: Names
    text: str


class Learnt(dict[K, V]):
    """Values worked out when first asked for; where they grow too many, all are let go.

    Args:
        learn: Works a value out.

    Example:
        >>> squares = Learnt(lambda number: number * number)
        >>> squares[12], len(squares)
        (144, 1)
    """

    def __init__(self, learn: Callable[[K], V]) -> None:
        super().__init__()
        self._learn: Final = learn

    def __missing__(self, key: K) -> V:
        value = self._learn(key)
        if len(self) >= _MOST_LEARNT:
            self.clear()
        self[key] = value
        return value


class Lessons:
    """What has been learnt of one table; the table itself is not held.

    Args:
        voicing: Any voicing of the table.
    """

    def __init__(self, voicing: "Voicing") -> None:
        strings = len(voicing.frets)
        self.cut: Final = (strings + 1) // 2
        self.lefts: Final = Learnt[bytes, Half](lambda key: self._half(key, 0))
        self.rights: Final = Learnt[bytes, Half](lambda key: self._half(key, self.cut))
        self.fingers: Final = Learnt[bytes, Written[tuple[int | None, ...]]](_fingers)
        self.families: Final = Learnt[int, Written[Names]](self._families)
        self.differences: Final = Learnt[tuple[int, Names], Difference](self._difference)
        self.reaches: Final = Learnt[float, str](repr)
        self._tones: Final = Learnt[tuple[int, int], Tone](self._tone)
        self.inversions: Final[dict[str, str]] = {}
        self._strings: Final = strings
        self._any: Final = voicing
        self._blocks: Final[OrderedDict[int, Block]] = OrderedDict()
        self._family_names: Names = ()

    def block(self, table: "VoicingTable", number: int) -> Block:
        """A block of the table, counted from 0."""
        block = self._blocks.get(number)
        if block is None:
            block = self._blocks[number] = self._made(table[number * BLOCK : (number + 1) * BLOCK])
            while len(self._blocks) > _BLOCKS:
                self._blocks.popitem(last=False)
        return block

    def _made(self, part: "VoicingTable") -> Block:
        columns, families = part.columns, part.families()
        self._family_names = tuple(families)
        masks = sum(rows.astype("u4") << bit for bit, rows in enumerate(families.values()))
        bass = columns["bass_degree"]
        names = bass.tolist()
        for name in set(names) - self.inversions.keys():
            self.inversions[name] = part[names.index(name)].inversion
        return Block(
            cut=self.cut,
            frets=part.frets,
            fingers=part.fingers(),
            reach_mm=columns["reach_mm"].round(1),
            presses=columns["presses"],
            bass_degree=bass,
            top_degree=columns["top_degree"],
            families=cast("NDArray[np.uint32]", masks),
        )

    def _half(self, key: bytes, first: int) -> Half:
        """What a half does whose strings begin with `first`."""
        own = memoryview(key).cast("b").tolist()
        frets = tuple([None if fret < 0 else fret for fret in own])
        sounding = [place for place in enumerate(own, first) if place[1] >= 0]
        tones = [self._tones[place] for place in sounding]
        pitches = tuple([tone.pitch for tone in tones])
        degrees = tuple([tone.degree for tone in tones])
        string_set = tuple([self._strings - string for string, _ in sounding])
        dash, comma = ("-", ",") if first and own else ("", "")
        return Half(
            frets=frets,
            pitches=pitches,
            degrees=degrees,
            added=tuple([tone.degree for tone in tones if tone.added]),
            sounding=functools.reduce(operator.or_, [tone.bit for tone in tones], 0),
            string_set=string_set,
            notes=len(tones),
            open_strings=own.count(0),
            shape=dash + "-".join(["x" if fret is None else str(fret) for fret in frets]),
            fret_text=comma + ",".join(["null" if fret is None else str(fret) for fret in frets]),
            pitch_text=_quoted(pitches)[1:-1],
            degree_text=_quoted(degrees)[1:-1],
            string_text=",".join(map(str, string_set)),
        )

    def _tone(self, place: tuple[int, int]) -> Tone:
        """What a string sounds at a fret: a voicing of this string alone says it."""
        frets = [-1] * self._strings
        frets[place[0]] = place[1]
        voicing = attrs.evolve(self._any, frets=tuple(frets))
        (degree,) = voicing.degrees
        (pitch,) = voicing.pitches
        return Tone(str(pitch), str(degree), 1 << degree.pitch_class, added=bool(voicing.added))

    def _families(self, mask: int) -> Written[Names]:
        names = tuple(name for bit, name in enumerate(self._family_names) if mask >> bit & 1)
        return Written(names, _quoted(names))

    def _difference(self, key: tuple[int, Names]) -> Difference:
        sounding, names = key
        added = tuple(dict.fromkeys(names))
        left_out = tuple(
            str(degree)
            for degree in self._any.chord.degrees
            if not sounding >> degree.pitch_class & 1
        )
        return Difference(
            added, left_out, f'"added":{_quoted(added)},"left_out":{_quoted(left_out)}'
        )


class _Recent:
    """The lessons used last, in a process; those before them are let go."""

    def __init__(self) -> None:
        self._lock: Final = threading.Lock()
        self._held: Final[OrderedDict[int, Lessons]] = OrderedDict()

    def use(self, lessons: Lessons) -> None:
        """Keep some lessons, the last to be let go."""
        with self._lock:
            self._held[id(lessons)] = lessons
            self._held.move_to_end(id(lessons))
            while len(self._held) > _TABLES:
                self._held.popitem(last=False)


RECENT: Final = _Recent()
"""Keeps what was learnt of the tables that were read last."""


def _fingers(key: bytes) -> Written[tuple[int | None, ...]]:
    fingers = tuple([finger or None for finger in key])
    return Written(fingers, f"[{','.join([str(finger or 'null') for finger in key])}]")


def _quoted(names: Names) -> str:
    """A list of names in JSON, which need no escape."""
    quoted = [f'"{name}"' for name in names]
    return f"[{','.join(quoted)}]"
