"""Chords: a root, a quality and, after a slash, a bass."""

from __future__ import annotations

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.degree import Degree
from gripwright.theory.interval import Interval
from gripwright.theory.note import Note
from gripwright.theory.quality import Groups, Quality
from gripwright.theory.symbol import MOST_ACCIDENTALS, default_reader


@attrs.frozen
class Chord:
    """A spelled chord.

    Equality ignores warnings.

    Args:
        root: The root, with at most three flats or sharps.
        quality: Degrees and essential tones.
        bass: The lowest sounding note where a slash names one, with at most three flats or
            sharps.
        warnings: What else the text that was read could have meant.

    Raises:
        ConditionError: Root or bass carries more than three flats or sharps.

    Example:
        >>> chord = Chord.parse("F#m7b5")
        >>> [str(note) for note in chord.notes]
        ['F#', 'A', 'C', 'E']
        >>> chord.essential
        (('b3',), ('b5',), ('b7',))
    """

    root: Note = attrs.field()
    quality: Quality
    bass: Note | None = attrs.field(default=None)
    warnings: tuple[str, ...] = attrs.field(default=(), eq=False)

    @root.validator
    @bass.validator
    def _check_accidentals(
        self, attribute: attrs.Attribute[Note | None], note: Note | None
    ) -> None:
        if note is not None and abs(note.alteration) > MOST_ACCIDENTALS:
            raise ConditionError(
                name=attribute.name,
                value=str(note),
                expected=f"at most {MOST_ACCIDENTALS} flats or sharps",
            )

    @classmethod
    def parse(
        cls, text: str, *, literal: bool = False, german: bool = False, dim_is_dim7: bool = False
    ) -> Chord:
        """Read a chord symbol.

        Args:
            text: The symbol, of at most 64 characters, in ASCII or with the trade's signs.
            literal: Stack the thirds below 11 and 13 literally, as MusicXML defines its kinds;
                without it, 13 leaves the 11 out and 11 the third (common practice).
            german: Read H as B natural and B as B flat.
            dim_is_dim7: Read ``dim`` as a diminished seventh chord, as many charts mean it.

        Returns:
            The chord, with warnings where the text could mean something else.

        Raises:
            ChordSymbolError: The text is no chord symbol; says where, what could have stood
                there and the nearest readable symbol.

        Example:
            >>> Chord.parse("C7(b9,#11)/G").symbol
            'C7b9#11/G'
            >>> Chord.parse("C2").warnings
            ('2 is read as an added ninth, Cadd9; some mean Csus2',)
        """
        reading = default_reader().read(
            text, literal=literal, german=german, dim_is_dim7=dim_is_dim7
        )
        return cls(reading.root, reading.quality, reading.bass, reading.warnings)

    @property
    def symbol(self) -> str:
        """The canonical symbol, of at most 64 characters, which reads back to an equal chord."""
        bass = f"/{self.bass}" if self.bass is not None else ""
        return f"{self.root}{self.quality.name}{bass}"

    def __str__(self) -> str:
        return self.symbol

    @property
    def degrees(self) -> tuple[Degree, ...]:
        """Degrees in order of their place above the root."""
        return self.quality.degrees

    @property
    def notes(self) -> tuple[Note, ...]:
        """The spelled note of each degree; a foreign bass is not among them."""
        return tuple(self.root + degree.interval for degree in self.degrees)

    @property
    def essential(self) -> Groups:
        """Groups of degrees; of each at least one must sound."""
        return self.quality.essential

    @property
    def tensions(self) -> tuple[Degree, ...]:
        """Degrees that may colour the chord."""
        return self.quality.tensions

    @property
    def foreign_bass(self) -> bool:
        """Whether the bass is a tone that no degree of the chord sounds.

        Example:
            >>> Chord.parse("C/D").foreign_bass, Chord.parse("C/E").foreign_bass
            (True, False)
        """
        return self.bass is not None and self.bass.pitch_class not in {
            note.pitch_class for note in self.notes
        }

    def transposed(self, interval: Interval) -> Chord:
        """The chord moved by an interval, spelled by it.

        Raises:
            ConditionError: Root or bass would carry more than three flats or sharps.

        Example:
            >>> Chord.parse("Dm7").transposed(Interval.parse("m3")).symbol
            'Fm7'
        """
        bass = self.bass + interval if self.bass is not None else None
        return Chord(self.root + interval, self.quality, bass)
