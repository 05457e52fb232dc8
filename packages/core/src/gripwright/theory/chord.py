"""Chords: a root, a quality and, after a slash, a bass."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE, Interval
from gripwright.theory.note import Note
from gripwright.theory.quality import Groups, Quality
from gripwright.theory.symbol import MOST_ACCIDENTALS, default_reader

_CHROMATIC: Final = tuple(
    map(Degree, ("1", "b9", "9", "b3", "3", "11", "b5", "5", "b13", "13", "b7", "7"))
)


def _by_pitch_class(degrees: Iterable[Degree]) -> tuple[Degree | None, ...]:
    names: dict[int, Degree] = {}
    for degree in degrees:
        names.setdefault(degree.pitch_class, degree)
    return tuple(map(names.get, range(SEMITONES_IN_OCTAVE)))


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

    @property
    def names(self) -> tuple[Degree | None, ...]:
        """The degree that each pitch class above the root is, None where it is no tone.

        Of two degrees of one pitch class the first names it; a foreign bass is named as a
        tension is.

        Returns:
            Twelve of them, the root first.

        Example:
            >>> [name for name in Chord.parse("C/D").names if name]
            ['1', '9', '3', '5']
        """
        bass = () if self.bass is None else (Degree.of(self.bass - self.root).as_tension,)
        return _by_pitch_class((*self.degrees, *bass))

    @property
    def chromatic_names(self) -> tuple[Degree | None, ...]:
        """The same with a name for every pitch class: tensions, tones to avoid, and the rest.

        Example:
            >>> Chord.parse("C7").chromatic_names[:4]
            ('1', 'b9', '9', '#9')
        """
        named = (name for name in self.names if name is not None)
        return _by_pitch_class((*named, *self.tensions, *self.quality.avoid, *_CHROMATIC))

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
