"""Which tones of a chord a family of few voices keeps."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

Tones = tuple[Degree, ...]


def selections(chord: Chord, voices: int) -> Iterator[Tones]:
    """Every choice of so many different tones that keeps each essential group of a chord.

    Args:
        chord: The chord.
        voices: Number of tones.

    Yields:
        Degrees in order of pitch class above the root.

    Example:
        >>> list(selections(Chord.parse("C9"), 4))
        [('1', '9', '3', 'b7'), ('9', '3', '5', 'b7')]
    """
    for choice in combinations(chord.degrees, voices):
        tones = {degree.pitch_class for degree in choice}
        essential = (({degree.pitch_class for degree in group}) for group in chord.essential)
        if len(tones) == voices and all(group & tones for group in essential):
            yield tuple(sorted(choice, key=lambda degree: degree.pitch_class))


def rotations(tones: Tones) -> Iterator[Tones]:
    """The tones in close order, from each of them upwards: the inversions.

    Example:
        >>> list(rotations((Degree("1"), Degree("3"), Degree("5"))))
        [('1', '3', '5'), ('3', '5', '1'), ('5', '1', '3')]
    """
    return (tones[start:] + tones[:start] for start in range(len(tones)))


def is_triad(tones: Tones) -> bool:
    """Whether three tones are a major, minor, diminished or augmented triad in some order.

    Example:
        >>> is_triad((Degree("3"), Degree("5"), Degree("7")))
        True
    """
    places = sorted(degree.pitch_class for degree in tones)
    return any(
        sorted((place - start) % SEMITONES_IN_OCTAVE for place in places)
        in ([0, 4, 7], [0, 3, 7], [0, 3, 6], [0, 4, 8])
        for start in places
    )


def third(chord: Chord) -> Degree | None:
    """The third of a chord, or the fourth or second that stands for it."""
    return _first(chord, ("3", "b3", "4", "2"))


def seventh(chord: Chord) -> Degree | None:
    """The seventh of a chord, or the sixth that stands for it."""
    return _first(chord, ("7", "b7", "bb7", "6"))


def _first(chord: Chord, names: tuple[str, ...]) -> Degree | None:
    return next((degree for name in names for degree in chord.degrees if degree == name), None)
