"""The rows of a table of voicings, made block by block from its columns.

A table can hold hundreds of thousands of voicings. What a fret of a string sounds is worked out
once, and numbers come from the columns, so that a row costs little more than its text.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

if TYPE_CHECKING:
    from gripwright import Voicing, VoicingTable

_BLOCK: Final = 1000


@attrs.frozen(kw_only=True)
class VoicingRow:
    """A row: one voicing, strings from the bass side to the treble side.

    Args:
        id: Instrument and shape; it names the grip, not the chord.
        frets: Fret of each string; None where it is muted, 0 where it is open.
        pitches: Pitches of the sounding strings, spelled for the chord.
        degrees: Degrees of the sounding strings.
        reach_mm: Distance along the neck from the nearest to the farthest fretted note in mm,
            to a tenth.
        presses: Presses of the fretting hand.
        fingers: Finger on each string, 1 index to 4 little; None where none presses.
        notes: Strings that sound.
        open_strings: Strings that sound open.
        bass_degree: Degree of the lowest pitch.
        top_degree: Degree of the highest pitch.
        inversion: ``"root"``, ``"1st"`` and so on by the lowest pitch; ``"foreign"`` for a bass
            that is no tone of the symbol.
        string_set: The sounding strings as players number them, 1 on the treble side.
        families: Every family of voicings that it belongs to, by what sounds.
        added: Degrees that sound and are not in the symbol.
        left_out: Degrees of the symbol that do not sound.
    """

    id: str
    frets: tuple[int | None, ...]
    pitches: tuple[str, ...]
    degrees: tuple[str, ...]
    reach_mm: float
    presses: int
    fingers: tuple[int | None, ...]
    notes: int
    open_strings: int
    bass_degree: str
    top_degree: str
    inversion: str
    string_set: tuple[int, ...]
    families: tuple[str, ...]
    added: tuple[str, ...]
    left_out: tuple[str, ...]


def voicing_rows(
    table: "VoicingTable", tones: "SoundingTones | None" = None
) -> Iterator[VoicingRow]:
    """One row a voicing, in the order of the table.

    Args:
        table: Voicings of a chord on an instrument.
        tones: What is known from other parts of the same table, to which this one adds.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345, id="small")
        >>> rows = voicing_rows(find_voicings(Chord.parse("C"), ukulele))
        >>> next(row for row in rows if row.id == "small:0-0-0-3").pitches
        ('G4', 'C4', 'E4', 'C5')
    """
    if tones is None:
        tones = SoundingTones()
    for start in range(0, len(table), _BLOCK):
        block = table[start : start + _BLOCK]
        columns = block.columns
        numbers = zip(
            block.frets.tolist(),
            columns["reach_mm"].round(1).tolist(),
            columns["presses"].tolist(),
            block.fingers().tolist(),
            columns["bass_degree"].tolist(),
            columns["top_degree"].tolist(),
            families_of(block),
            strict=True,
        )
        head = f"{table.instrument.id}:"
        for place, numbers_of_one in enumerate(numbers):
            frets, reach_mm, presses, fingers, bass_degree, top_degree, families = numbers_of_one
            sounding = [(string, fret) for string, fret in enumerate(frets) if fret >= 0]
            if not tones.know(sounding):
                tones.learn(block[place])
            degrees = tuple([tones.degrees[one] for one in sounding])
            if bass_degree not in tones.inversions:
                tones.inversions[bass_degree] = block[place].inversion
            added, left_out = tones.differences(degrees)
            yield VoicingRow(
                id=head + "-".join(["x" if fret < 0 else str(fret) for fret in frets]),
                frets=tuple([None if fret < 0 else fret for fret in frets]),
                pitches=tuple([tones.pitches[one] for one in sounding]),
                degrees=degrees,
                reach_mm=reach_mm,
                presses=presses,
                fingers=tuple([finger or None for finger in fingers]),
                notes=len(sounding),
                open_strings=frets.count(0),
                bass_degree=bass_degree,
                top_degree=top_degree,
                inversion=tones.inversions[bass_degree],
                string_set=tuple([len(frets) - string for string, _ in sounding]),
                families=families,
                added=added,
                left_out=left_out,
            )


def families_of(table: "VoicingTable") -> list[tuple[str, ...]]:
    """For each voicing of a table the names of its families.

    Args:
        table: Voicings of a chord on an instrument.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> ukulele = Instrument.from_text("G4 C4 E4 A4", frets=15, scale_mm=345)
        >>> table = find_voicings(Chord.parse("C7"), ukulele, no_doubles=True)
        >>> families_of(table)[0] == table[0].families
        True
    """
    found: list[list[str]] = [[] for _ in range(len(table))]
    for name, rows in table.families().items():
        for place in rows.nonzero()[0].tolist():
            found[place].append(name)
    return [tuple(names) for names in found]


class SoundingTones:
    """What places on the neck sound in one chord, as learnt from the voicings seen so far."""

    def __init__(self) -> None:
        self.pitches: dict[tuple[int, int], str] = {}
        self.degrees: dict[tuple[int, int], str] = {}
        self._classes: dict[str, int] = {}
        self._symbol: dict[str, int] = {}
        self._symbol_tones: frozenset[int] = frozenset()
        self._differences: dict[tuple[str, ...], tuple[tuple[str, ...], tuple[str, ...]]] = {}
        self.inversions: dict[str, str] = {}

    def know(self, sounding: list[tuple[int, int]]) -> bool:
        """Whether every place has been seen."""
        return all(place in self.pitches for place in sounding)

    def learn(self, voicing: "Voicing") -> None:
        """Keep what the strings of a voicing sound."""
        places = [(string, fret) for string, fret in enumerate(voicing.frets) if fret >= 0]
        self.pitches.update(zip(places, map(str, voicing.pitches), strict=True))
        self.degrees.update(zip(places, map(str, voicing.degrees), strict=True))
        self._classes.update((str(degree), degree.pitch_class) for degree in voicing.degrees)
        self._symbol = {str(degree): degree.pitch_class for degree in voicing.chord.degrees}
        self._symbol_tones = voicing.symbol_tones

    def differences(self, degrees: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """What a voicing adds to the symbol, and what it leaves out of it.

        Args:
            degrees: The degrees that it sounds, each learnt before.
        """
        known = self._differences.get(degrees)
        if known is None:
            classes = {degree: self._classes[degree] for degree in degrees}
            sounding = set(classes.values())
            known = self._differences[degrees] = (
                tuple(name for name, tone in classes.items() if tone not in self._symbol_tones),
                tuple(name for name, tone in self._symbol.items() if tone not in sounding),
            )
        return known
