"""Numerals: chords named by their degree in a key."""

from __future__ import annotations

import re
from typing import Any, Final

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.note import Note
from gripwright.theory.quality import Quality
from gripwright.tune.key import Key
from gripwright.tune.numeral_reader import NumeralParts, read_numeral
from gripwright.tune.numeral_roman import roman_of
from gripwright.tune.spelling import spelled

_SEVEN: Final = 7
_FLAT_TWO: Final = Degree("b2")
_MINOR_NAME: Final = re.compile(r"m(?!aj)")

_NAMES_BY_SEMITONES: Final = (
    *(("1",), ("b2", "#1"), ("2",), ("b3", "#2"), ("3",), ("4",)),
    *(("b5", "#4"), ("5",), ("b6", "#5"), ("6",), ("b7", "#6"), ("7",)),
)
"""Degrees of each pitch class above the tonic, the usual one first."""

_RISING: Final = frozenset({"#1", "#4", "#5"})
"""Degrees of which a diminished chord leads up (common practice)."""


def _check_degree(_instance: object, attribute: attrs.Attribute[Any], value: Degree | None) -> None:
    if value is not None and not (value.number <= _SEVEN and abs(value.alteration) <= 1):
        raise ConditionError(
            name=attribute.name, value=value, expected="a degree from 1 to 7, with b or # at most"
        )


@attrs.frozen
class Target:
    """The degree that an applied chord leads to, as the ``ii`` of ``V7/ii``.

    Args:
        degree: The degree above the tonic, 1 to 7 with one flat or sharp at most.
        minor: Whether its chord is minor, which small letters say.

    Raises:
        ConditionError: The degree is none from 1 to 7.

    Example:
        >>> str(Target(Degree("b6"))), str(Target(Degree("2"), minor=True))
        ('bVI', 'ii')
    """

    degree: Degree = attrs.field(validator=_check_degree)
    minor: bool = attrs.field(default=False)

    def __str__(self) -> str:
        return roman_of(self.degree, minor=self.minor)


@attrs.frozen
class Numeral:
    """A chord by its degree in a key.

    Degrees count in the major scale of the tonic, in minor keys too: the sixth degree of C minor
    is ``bVI``. Small letters stand for minor: ``ii7`` is the minor seventh chord that ``IIm7``
    and ``ii-7`` are as well, ``V7`` and ``I7`` are dominant sevenths, and ``iim7b5`` may be
    written ``iiø``. What follows the numeral is read as after the root of a chord symbol.

    A bare numeral stands for a seventh chord: in small letters a minor seventh; in capitals I,
    IV and the degrees with a sign are major sevenths, II, III, V, VI, VII and bVII dominants. A
    triad is written ``Imaj`` or ``im`` (common practice; the readings of bare II, III, VI and VII
    are ours, since in these places a major chord serves as a dominant).

    ``V7/ii`` is the V7 of the degree after the slash, ``subV7/V`` the dominant a half step above
    it. A digit after a slash is the bass, counted as the degree is: ``V7/7`` is G7/B in C.

    Args:
        degree: The degree of the root, 1 to 7 with one flat or sharp at most.
        quality: The quality of the chord.
        target: What it is applied to; then `degree` counts from there.
        bass: The degree of the bass above the tonic of the key, where it is not the root.

    Raises:
        ConditionError: A degree is none from 1 to 7.

    Example:
        >>> numeral = Numeral.parse("subV7/V")
        >>> str(numeral.realise(Key.parse("C"))), str(numeral)
        ('Ab7', 'subV7/V')
        >>> [str(Numeral.parse(text)) for text in ("I", "ii", "iiø", "v-7", "i6")]
        ['Imaj7', 'ii7', 'iim7b5', 'v7', 'i6']
    """

    degree: Degree = attrs.field(validator=_check_degree)
    quality: Quality
    target: Target | None = attrs.field(default=None)
    bass: Degree | None = attrs.field(default=None, validator=_check_degree)

    @classmethod
    def parse(cls, text: str, *, blues: bool = False) -> Numeral:
        """Read a numeral.

        Args:
            text: The numeral, of at most 80 characters.
            blues: Read bare I and IV as dominant sevenths, as in a blues.

        Raises:
            NotationError: The text is no numeral; says where, what could have stood there and
                the nearest readable numeral.

        Example:
            >>> from gripwright import NotationError
            >>> str(Numeral.parse("I", blues=True))
            'I7'
            >>> try:
            ...     Numeral.parse("ii77")
            ... except NotationError as error:
            ...     print(error)
            cannot read numeral 'ii77': unexpected '7' at position 3 (did you mean 'ii7'?)
        """
        return cls._of_parts(read_numeral(text, blues=blues))

    @classmethod
    def _of_parts(cls, parts: NumeralParts) -> Numeral:
        target = None if parts.target is None else Target(parts.target, parts.target_minor)
        return cls(parts.degree, parts.quality, target, parts.bass)

    @classmethod
    def of(cls, chord: Chord, key: Key) -> Numeral:
        """A chord of a key as a numeral, applied to nothing.

        The spelling of the root says the degree. Where it could be two, as when both would be
        spelled alike in this key, or is none of both, diminished chords stand on #I, #IV and
        #V, minor ones on #IV, and all others on bII, bIII, bV, bVI and bVII (common practice).

        Example:
            >>> key = Key.parse("C")
            >>> [str(Numeral.of(Chord.parse(s), key)) for s in ("A7", "Dm7", "F#dim7", "G7/B")]
            ['VI7', 'ii7', '#IVdim7', 'V7/7']
        """
        usual = _usual_degree((chord.root - key.tonic).semitones % 12, chord.quality)
        degree = _degree_of(chord.root, key, usual)
        bass = None
        if chord.bass is not None:
            names = _NAMES_BY_SEMITONES[(chord.bass - key.tonic).semitones % 12]
            bass = _degree_of(chord.bass, key, Degree(names[0]))
        return cls(degree, chord.quality, None, bass)

    def realise(self, key: Key) -> Chord:
        """The chord in a key.

        The root is written as players write it in the key (see `spelled`), a bass that is a tone
        of the chord as this tone, where that takes one accidental at most.

        Example:
            >>> key = Key.parse("Ab")
            >>> [Numeral.parse(text).realise(key).symbol for text in ("V7/ii", "bVI7", "V7/7")]
            ['F7', 'E7', 'Eb7/G']
        """
        root = key.tonic
        if self.target is not None:
            root += self.target.degree.interval
        chord = Chord(spelled(root + self.degree.interval, key), self.quality)
        if self.bass is None:
            return chord
        bass = key.tonic + self.bass.interval
        return attrs.evolve(chord, bass=bass_of(chord, bass, key))

    def __str__(self) -> str:
        applied = "" if self.target is None else f"/{self.target}"
        bass = "" if self.bass is None else f"/{self.bass}"
        name = self.quality.name
        if self.target is not None and self.degree == _FLAT_TWO and is_dominant(self.quality):
            return f"subV{name}{applied}{bass}"
        minor = _MINOR_NAME.match(name) is not None
        if not name:
            name = "maj"
        elif minor and name[1:2].isdigit() and "b5" not in self.quality.degrees:
            name = name[1:]
        return f"{roman_of(self.degree, minor=minor)}{name}{applied}{bass}"


def is_dominant(quality: Quality) -> bool:
    """Whether a quality has a major third and a minor seventh.

    Example:
        >>> from gripwright import QUALITIES
        >>> is_dominant(QUALITIES["13b9"]), is_dominant(QUALITIES["maj7"])
        (True, False)
    """
    return {"3", "b7"} <= set(quality.degrees)


def bass_of(chord: Chord, bass: Note, key: Key | None) -> Note:
    """The bass of a chord as players write it: as a tone of the chord, else as the key has it.

    Example:
        >>> str(bass_of(Chord.parse("C#7"), Note.parse("F"), Key.parse("F#m")))
        'E#'
    """
    tones = (tone for tone in chord.notes if tone.pitch_class == bass.pitch_class)
    tone = next(tones, None)
    return tone if tone is not None and abs(tone.alteration) <= 1 else spelled(bass, key)


def _usual_degree(semitones: int, quality: Quality) -> Degree:
    names = _NAMES_BY_SEMITONES[semitones]
    tones = set(quality.degrees)
    rising = {"b3", "b5"} <= tones or ("b3" in tones and "#4" in names)
    return Degree(names[-1] if rising and names[-1] in _RISING else names[0])


def _degree_of(note: Note, key: Key, usual: Degree) -> Degree:
    names = map(Degree, _NAMES_BY_SEMITONES[(note - key.tonic).semitones % 12])
    fitting = [name for name in names if spelled(key.tonic + name.interval, key) == note]
    return fitting[0] if len(fitting) == 1 else usual
