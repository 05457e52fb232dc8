"""The rows of a table of voicings, as values and as the JSON of these values.

A table can hold hundreds of thousands of voicings, and a page of it should cost little more than
its text: `voicing_memory` has what is worked out once for many rows.
"""

import json
import weakref
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from gripwright_server.operations.voicing_memory import BLOCK, RECENT, Lessons
from gripwright_server.operations.voicing_row import VoicingRow

if TYPE_CHECKING:
    from gripwright import VoicingTable
    from gripwright_server.operations.voicing_memory import Numbers


class VoicingRows:
    """The rows of a table of voicings.

    Args:
        table: Voicings of a chord on an instrument.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345, id="small")
        >>> rows = VoicingRows(find_voicings(Chord.parse("C"), ukulele))
        >>> place = [row.id for row in rows.values()].index("small:0-0-0-3")
        >>> next(rows.values(place)).pitches
        ('G4', 'C4', 'E4', 'C5')
        >>> next(rows.texts(place)).partition(b',"degrees"')[0].decode()
        '{"id":"small:0-0-0-3","frets":[0,0,0,3],"pitches":["G4","C4","E4","C5"]'
    """

    def __init__(self, table: "VoicingTable") -> None:
        self._table: Final = table
        self._kept: weakref.ref[Lessons] | None = None

    def values(self, start: int = 0, stop: int | None = None) -> Iterator[VoicingRow]:
        """The rows as values, in the order of the table.

        Args:
            start: The first row, from 0.
            stop: The row after the last; None for all.
        """
        if not len(self._table):
            return
        learnt = self._learnt()
        head = f"{self._table.instrument.id}:"
        for numbers in self._numbers(learnt, start, stop):
            left_key, right_key, finger_key, reach_mm, presses, bass, top, family_key = numbers
            left, right = learnt.lefts[left_key], learnt.rights[right_key]
            sounding = left.sounding | right.sounding
            difference = learnt.differences[sounding, left.added + right.added]
            yield VoicingRow(
                id=f"{head}{left.shape}{right.shape}",
                frets=left.frets + right.frets,
                pitches=left.pitches + right.pitches,
                degrees=left.degrees + right.degrees,
                reach_mm=reach_mm,
                presses=presses,
                fingers=learnt.fingers[finger_key].value,
                notes=left.notes + right.notes,
                open_strings=left.open_strings + right.open_strings,
                bass_degree=bass,
                top_degree=top,
                inversion=learnt.inversions[bass],
                string_set=left.string_set + right.string_set,
                families=learnt.families[family_key].value,
                added=difference.added,
                left_out=difference.left_out,
            )

    def texts(self, start: int = 0, stop: int | None = None) -> Iterator[bytes]:
        """The rows as JSON in ASCII, without spaces: that of `values`, byte for byte.

        Args:
            start: The first row, from 0.
            stop: The row after the last; None for all.
        """
        if not len(self._table):
            return
        learnt = self._learnt()
        lefts, rights, fingers = learnt.lefts, learnt.rights, learnt.fingers
        families, differences = learnt.families, learnt.differences
        inversions, reaches = learnt.inversions, learnt.reaches
        head = f'{{"id":{json.dumps(self._table.instrument.id)[:-1]}:'
        for numbers in self._numbers(learnt, start, stop):
            left_key, right_key, finger_key, reach_mm, presses, bass, top, family_key = numbers
            left, right = lefts[left_key], rights[right_key]
            comma = "," if left.notes and right.notes else ""
            sounding = left.sounding | right.sounding
            yield (
                f'{head}{left.shape}{right.shape}","frets":[{left.fret_text}{right.fret_text}],'
                f'"pitches":[{left.pitch_text}{comma}{right.pitch_text}],'
                f'"degrees":[{left.degree_text}{comma}{right.degree_text}],'
                f'"reach_mm":{reaches[reach_mm]},"presses":{presses},'
                f'"fingers":{fingers[finger_key].text},"notes":{left.notes + right.notes},'
                f'"open_strings":{left.open_strings + right.open_strings},'
                f'"bass_degree":"{bass}","top_degree":"{top}","inversion":"{inversions[bass]}",'
                f'"string_set":[{left.string_text}{comma}{right.string_text}],'
                f'"families":{families[family_key].text},'
                f"{differences[sounding, left.added + right.added].text}}}"
            ).encode("ascii")

    def _learnt(self) -> Lessons:
        learnt = None if self._kept is None else self._kept()
        if learnt is None:
            learnt = Lessons(self._table[0])
            self._kept = weakref.ref(learnt)
        RECENT.use(learnt)
        return learnt

    def _numbers(self, learnt: Lessons, start: int, stop: int | None) -> "Iterator[Numbers]":
        """What differs from row to row."""
        end = len(self._table) if stop is None else min(stop, len(self._table))
        while start < end:
            number, first = divmod(start, BLOCK)
            last = min(BLOCK, first + end - start)
            yield from learnt.block(self._table, number).numbers(first, last)
            start += last - first
