"""Scales, and the usual scale of a chord."""

from __future__ import annotations

import functools
import tomllib
from importlib.resources import files

import attrs

from gripwright.theory.degree import Degree
from gripwright.theory.quality import Quality


@attrs.frozen
class Scale:
    """A scale by its degrees above the tonic.

    Args:
        name: The trade's name.
        degrees: The degrees, rising within an octave.

    Example:
        >>> [scale.name for scale in scales()][:2]
        ['ionian', 'mixolydian']
    """

    name: str
    degrees: tuple[Degree, ...]

    @property
    def tones(self) -> frozenset[int]:
        """Pitch classes above the tonic."""
        return frozenset(degree.pitch_class for degree in self.degrees)


@functools.cache
def scales() -> tuple[Scale, ...]:
    """Every scale of the table, in the order in which chords take them."""
    text = files("gripwright.theory").joinpath("scales.toml").read_text(encoding="utf-8")
    return tuple(
        Scale(row["name"], tuple(map(Degree, row["degrees"].split())))
        for row in tomllib.loads(text)["scale"]
    )


def usual_scale(quality: Quality) -> Scale | None:
    """The scale that a quality names, or the first of the table that holds all its tones.

    Args:
        quality: The quality.

    Returns:
        The scale, or None where none holds them all.

    Example:
        >>> from gripwright.theory.quality import QUALITIES
        >>> usual_scale(QUALITIES["m7"]).name, usual_scale(QUALITIES["7alt"]).name
        ('dorian', 'altered')
    """
    tones = {degree.pitch_class for degree in quality.degrees}
    fitting = (scale for scale in scales() if tones <= scale.tones)
    if quality.scale is not None:
        fitting = (scale for scale in scales() if scale.name == quality.scale)
    return next(fitting, None)


def scale_degrees(quality: Quality) -> tuple[Degree, ...]:
    """The degrees of a quality's usual scale, named for the chord.

    A tone of the chord keeps the chord's name; any other second, fourth or sixth is named as
    the tension an octave higher. Without a scale these are the chord's own degrees.

    Returns:
        Degrees in order of pitch class.

    Example:
        >>> from gripwright.theory.quality import QUALITIES
        >>> scale_degrees(QUALITIES["m7"])
        ('1', '9', 'b3', '11', '5', '13', 'b7')
    """
    scale = usual_scale(quality)
    own = {degree.pitch_class: degree for degree in reversed(quality.degrees)}
    tones = quality.degrees if scale is None else scale.degrees
    named = {
        degree.pitch_class: own.get(degree.pitch_class) or degree.as_tension for degree in tones
    }
    return tuple(named[tone] for tone in sorted(named))
