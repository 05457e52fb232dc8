"""Fretted instruments: strings as strung, and where their frets lie."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import attrs

from gripwright.errors import ConditionError, NotationError
from gripwright.neck.shape import MUTED
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.pitch import Pitch

MOST_STRINGS: Final = 16
MOST_FRETS: Final = 48
_LONGEST_SCALE_MM: Final = 5000.0
_CAPO_MARK: Final = "+capo"


def _pitches(pitches: Iterable[Pitch]) -> tuple[Pitch, ...]:
    return tuple(pitches)


@attrs.frozen
class InstrumentString:
    """One string or course.

    Args:
        open: The pitch of the open string.
        scale_mm: Length from nut to bridge in mm; of a short string, the length that it would
            have if it reached the nut.
        first_fret: The fret at which a short string starts, 0 for a whole one. The lowest press
            lies one fret above.
        doubles: Pitches of the other strings of a course. They do not count in tests of bass,
            top or chord.

    Raises:
        ConditionError: A length or fret outside its range.

    Example:
        >>> InstrumentString(Pitch.parse("G4"), 670.0, first_fret=5).first_fret
        5
    """

    open: Pitch
    scale_mm: float = attrs.field(converter=float)
    first_fret: int = attrs.field(default=0)
    doubles: tuple[Pitch, ...] = attrs.field(default=(), converter=_pitches)

    @scale_mm.validator
    def _check_scale(self, _attribute: object, value: float) -> None:
        if not 0 < value <= _LONGEST_SCALE_MM:
            raise ConditionError(
                name="scale_mm", value=value, expected=f"more than 0 to {_LONGEST_SCALE_MM:g} mm"
            )

    @first_fret.validator
    def _check_first_fret(self, _attribute: object, value: int) -> None:
        if not 0 <= value < MOST_FRETS:
            raise ConditionError(
                name="first_fret", value=value, expected=f"a fret from 0 to {MOST_FRETS - 1}"
            )


def _strings(strings: Iterable[InstrumentString]) -> tuple[InstrumentString, ...]:
    return tuple(strings)


@attrs.frozen
class Instrument:
    """A fretted instrument.

    Strings stand in order as strung, from the player's bass side to the treble side; nothing
    assumes that their pitches rise. Players number them the other way: string 1 is the last.
    Fret f of a string of length L lies ``L * (2**(-a/12) - 2**(-f/12))`` mm along the neck, where
    a is the fret at which fanned scales are aligned (twelve-tone equal temperament).

    Args:
        id: The name by which it is asked for; lower-case ASCII.
        name: The name for readers.
        strings: The strings as strung, 1 to 16.
        frets: Number of frets, 1 to 48.
        align_fret: The fret at which strings of different lengths are aligned, 0 for the nut.
        capo: The fret at which a capo sits, as part of what `frets` no longer counts.

    Raises:
        ConditionError: No strings, too many, or a number of frets outside its range.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> guitar.sounding(1, 3)
        48
        >>> round(guitar.place_mm(0, 12), 1)
        324.0
    """

    id: str
    name: str
    strings: tuple[InstrumentString, ...] = attrs.field(converter=_strings)
    frets: int = attrs.field()
    align_fret: float = 0.0
    capo: int = 0

    @strings.validator
    def _check_strings(self, _attribute: object, value: tuple[InstrumentString, ...]) -> None:
        if not 1 <= len(value) <= MOST_STRINGS:
            raise ConditionError(
                name="strings", value=len(value), expected=f"1 to {MOST_STRINGS} strings"
            )

    @frets.validator
    def _check_frets(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_FRETS:
            raise ConditionError(name="frets", value=value, expected=f"1 to {MOST_FRETS} frets")

    @frets.validator
    def _check_short_strings(self, _attribute: object, value: int) -> None:
        for string in self.strings:
            if string.first_fret >= value:
                raise ConditionError(
                    name="first_fret",
                    value=string.first_fret,
                    expected=f"a fret below the last of {value}",
                )

    @classmethod
    def from_text(
        cls,
        text: str,
        *,
        frets: int = 22,
        scale_mm: float = 648.0,
        id: str | None = None,  # noqa: A002 - its name
    ) -> Instrument:
        """An instrument from its open strings.

        Args:
            text: Pitches from the bass side to the treble side, such as ``"E2 A2 D3 G3 C4 F4"``.
            frets: Number of frets, 1 to 48.
            scale_mm: Scale length in mm.
            id: The name by which it is asked for; the pitches joined by dots if not given.

        Raises:
            NotationError: A pitch that cannot be read, with its position in the whole text.
            ConditionError: A number outside its range.

        Example:
            >>> Instrument.from_text("C3 G3 D4 A4", frets=19, scale_mm=584).id
            'C3.G3.D4.A4'
        """
        pitches: list[Pitch] = []
        end = 0
        for word in text.split():
            start = text.index(word, end)
            end = start + len(word)
            try:
                pitches.append(Pitch.parse(word))
            except NotationError as error:
                raise NotationError(
                    what="tuning",
                    text=text,
                    position=start + error.position,
                    expected=error.expected,
                ) from None
        if not pitches:
            raise NotationError(
                what="tuning", text=text, position=len(text), expected="pitches such as 'E2 A2 D3'"
            )
        strings = tuple(InstrumentString(pitch, scale_mm) for pitch in pitches)
        return cls(
            id=id or ".".join(map(str, pitches)),
            name=f"strings {' '.join(map(str, pitches))}",
            strings=strings,
            frets=frets,
        )

    @property
    def scale_mm(self) -> float:
        """Length of the longest string in mm."""
        return max(string.scale_mm for string in self.strings)

    @property
    def fanned(self) -> bool:
        """Whether strings differ in length, so that a fret runs slanted."""
        return len({string.scale_mm for string in self.strings}) > 1

    def lowest_press(self, string: int) -> int:
        """The lowest fret at which a string can be pressed.

        Args:
            string: Index of the string, 0 on the bass side.
        """
        return self.strings[string].first_fret + 1

    def sounding(self, string: int, fret: int) -> int:
        """The MIDI number that a string sounds at a fret.

        ``open + fret - first_fret``; the open string is fret 0, also of a short string.

        Args:
            string: Index of the string, 0 on the bass side.
            fret: 0 for the open string, else a fret from the string's lowest press up.

        Example:
            >>> short = InstrumentString(Pitch.parse("G4"), 670.0, first_fret=5)
            >>> Instrument("short", "short", (short,), 22).sounding(0, 7)
            69
        """
        pitch = self.strings[string].open.midi
        return pitch if fret == 0 else pitch + fret - self.strings[string].first_fret

    def check_frets(self, frets: Sequence[int]) -> None:
        """See that a shape is one of this instrument.

        Args:
            frets: What each string does, from the bass side: muted -1, open 0, or a fret.

        Raises:
            ConditionError: Not one fret for each string, or one that the string does not have.

        Example:
            >>> from gripwright.errors import ConditionError
            >>> short = Instrument.from_text("G4 C4 E4 A4", frets=12)
            >>> try:
            ...     short.check_frets((0, 0, 0, 13))
            ... except ConditionError as error:
            ...     print(error.expected)
            -1, 0 or 1 to 12 on string 1
        """
        count = len(self.strings)
        if len(frets) != count:
            raise ConditionError(
                name="frets", value=frets, expected=f"{count} of them, one a string"
            )
        for string, fret in enumerate(frets):
            lowest = self.lowest_press(string)
            if fret not in {MUTED, 0} and not lowest <= fret <= self.frets:
                raise ConditionError(
                    name="frets",
                    value=frets,
                    expected=f"-1, 0 or {lowest} to {self.frets} on string {count - string}",
                )

    def place_mm(self, string: int, fret: int) -> float:
        """How far along the neck a fret of a string lies, in mm.

        Args:
            string: Index of the string, 0 on the bass side.
            fret: The fret.

        Example:
            >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4", scale_mm=650)
            >>> round(guitar.place_mm(0, 1) * 17.8172, 2)
            650.0
        """
        scale = self.strings[string].scale_mm
        aligned = 2.0 ** (-self.align_fret / SEMITONES_IN_OCTAVE)
        return scale * float(aligned - 2.0 ** (-fret / SEMITONES_IN_OCTAVE))

    def with_capo(self, capo: int) -> Instrument:
        """The instrument with a capo, which shortens the neck.

        Frets count from the capo, lengths shrink by ``2**(-capo/12)``, and a short string that
        starts above the capo keeps its pitch.

        Args:
            capo: The fret of the capo, from 0 (none) to one below the last fret.

        Raises:
            ConditionError: The neck has no such fret to spare.

        Example:
            >>> Instrument.from_text("E2 A2 D3 G3 B3 E4", id="six").with_capo(2).id
            'six+capo2'
        """
        if not 0 <= capo < self.frets:
            raise ConditionError(
                name="capo", value=capo, expected=f"a fret from 0 to {self.frets - 1}"
            )
        if capo == 0:
            return self
        total = self.capo + capo
        return attrs.evolve(
            self,
            id=f"{self.id.partition(_CAPO_MARK)[0]}{_CAPO_MARK}{total}",
            name=f"{self.name.partition(', capo at ')[0]}, capo at {total}",
            strings=tuple(_under_capo(string, capo) for string in self.strings),
            frets=self.frets - capo,
            align_fret=self.align_fret - capo,
            capo=total,
        )


def _under_capo(string: InstrumentString, capo: int) -> InstrumentString:
    raised = max(0, capo - string.first_fret)
    return attrs.evolve(
        string,
        open=_raised(string.open, raised),
        scale_mm=string.scale_mm * 2.0 ** (-capo / SEMITONES_IN_OCTAVE),
        first_fret=max(0, string.first_fret - capo),
        doubles=tuple(_raised(pitch, raised) for pitch in string.doubles),
    )


def _raised(pitch: Pitch, semitones: int) -> Pitch:
    return pitch if semitones == 0 else Pitch.from_midi(pitch.midi + semitones)
