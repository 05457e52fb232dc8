"""Chord scales: what may be played over a chord in its context."""

from __future__ import annotations

import functools
import tomllib
from importlib.resources import files
from typing import Any, Final, Literal

import attrs

from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.quality import Quality
from gripwright.theory.scale import Scale, scales, usual_scale
from gripwright.tune.chart import Chart
from gripwright.tune.key import Key
from gripwright.tune.numeral import is_dominant

Family = Literal["major", "minor", "dominant", "half-diminished", "other"]
"""Kinds of chords that take the same scales in the same places."""

_FIFTH_BELOW: Final = 5
_HALF_STEP_BELOW: Final = 11
_FIFTH: Final = Degree("5")
_ALTERED_NINTHS: Final = frozenset({"b9", "#9"})


@attrs.frozen
class ChordScale:
    """The scale of a chord in its context, and what each of its tones is good for.

    Degrees count from the root of the chord and are named for it: a second, fourth or sixth that
    is no tone of the chord as the 9, 11 or 13.

    Args:
        chord: The chord.
        scale: The scale; None where no known scale holds the chord.
        tones: The tones of the chord.
        tensions: Tones of the scale that colour the chord.
        avoid: Tones of the scale that hide it, good for passing only.
        reason: Why this scale, in words.

    Example:
        >>> found = chord_scale(Chord.parse("G7"))
        >>> found.scale.name, [str(tension) for tension in found.tensions]
        ('mixolydian', ['9', '13'])
    """

    chord: Chord
    scale: Scale | None
    tones: tuple[Degree, ...]
    tensions: tuple[Degree, ...]
    avoid: tuple[Degree, ...]
    reason: str


@attrs.frozen
class _Context:
    family: str
    mode: str | None
    places: frozenset[int]
    following: str | None
    scales: tuple[Scale, ...]
    avoid: frozenset[str]
    reason: str


def chord_scale(
    chord: Chord, key: Key | None = None, next_chord: Chord | None = None
) -> ChordScale:
    """The scale of a chord in its key and before its next chord.

    The table of contexts says the scale (see `chord_scales.toml`): a dominant by where it goes,
    then by where it stands; a minor seventh, a half-diminished and a major chord by its degree.
    The tones of the chord always belong to it; only a perfect fifth gives way, where a ninth is
    altered. Without a context that says more it is the usual scale of the quality.

    Of the other tones of the scale those are avoided that lie a half step above a tone of the
    chord, on a dominant only the 11 above its third; besides what the quality and the context
    name (common practice).

    Args:
        chord: The chord.
        key: The key in which it stands, if known.
        next_chord: The chord that follows, if known.

    Returns:
        The scale with tensions and tones to avoid.

    Example:
        >>> key, dominant = Key.parse("C"), Chord.parse("A7")
        >>> reading = chord_scale(dominant, key, Chord.parse("Dm7"))
        >>> reading.scale.name, reading.tensions, reading.avoid
        ('phrygian dominant', ('b9', 'b13'), ('11',))
        >>> chord_scale(Chord.parse("Fmaj7"), key).scale.name
        'lydian'
    """
    family = _family(chord.quality)
    place = None if key is None else (chord.root - key.tonic).semitones % 12
    mode = None if key is None else ("minor" if key.minor else "major")
    following = _following(chord, next_chord)
    for context in _contexts():
        if (
            context.family == family
            and context.mode in {None, mode}
            and (not context.places or place in context.places)
            and (context.following is None or context.following in following)
        ):
            scale = next((one for one in context.scales if _holds(one, chord.quality)), None)
            if scale is not None:
                return _read(chord, scale, context.avoid, context.reason)
            break
    return _read(chord, usual_scale(chord.quality), frozenset(), "the usual scale of the chord")


def chart_scales(chart: Chart[Chord], *, open_times: int = 2) -> tuple[ChordScale | None, ...]:
    r"""The scale of each chord of a chart in the order in which it is played.

    Args:
        chart: The chart; its keys and the next other chord after each are the context. The
            last chord has none after it.
        open_times: How often an open vamp is played, 1 to 99.

    Returns:
        One for each span of `chart.unfolded`, None for N.C.

    Example:
        >>> chart = Chart.parse("key: C\n| Em7 A7 | Dm7 G7 | Cmaj7 |")
        >>> [reading.scale.name for reading in chart_scales(chart)]
        ['phrygian', 'phrygian dominant', 'dorian', 'mixolydian', 'ionian']
    """
    form = chart.unfolded(open_times=open_times)
    readings: list[ChordScale | None] = []
    later = after = None
    for span in reversed(form.spans):
        if span.symbol != later:
            later, after = span.symbol, later
        key = form.bars[span.bar].written.key
        readings.append(None if later is None else chord_scale(later, key, after))
    return tuple(reversed(readings))


def _read(chord: Chord, scale: Scale | None, avoid: frozenset[str], reason: str) -> ChordScale:
    quality = chord.quality
    if scale is None:
        return ChordScale(chord, None, quality.degrees, quality.tensions, quality.avoid, reason)
    tones = tuple(degree for degree in quality.degrees if degree.pitch_class in scale.tones)
    sounding = {degree.pitch_class for degree in tones}
    others = [degree.as_tension for degree in scale.degrees if degree.pitch_class not in sounding]
    hidden = {*avoid, *quality.avoid} | {
        degree for degree in others if _rubs(degree, sounding, quality)
    }
    return ChordScale(
        chord=chord,
        scale=scale,
        tones=tones,
        tensions=tuple(degree for degree in others if degree not in hidden),
        avoid=tuple(degree for degree in others if degree in hidden),
        reason=reason,
    )


def _rubs(degree: Degree, sounding: set[int], quality: Quality) -> bool:
    if (degree.pitch_class - 1) % 12 not in sounding:
        return False
    tones = set(quality.degrees)
    dominant = "b7" in tones and "b3" not in tones
    return not dominant or degree == "11"


def _holds(scale: Scale, quality: Quality) -> bool:
    tones = {
        degree.pitch_class
        for degree in quality.degrees
        if not (degree == _FIFTH and _ALTERED_NINTHS & set(quality.degrees))
    }
    return tones <= scale.tones


def _family(quality: Quality) -> Family:
    tones = set(quality.degrees)
    if is_dominant(quality):
        return "dominant"
    if {"b3", "b5", "b7"} <= tones:
        return "half-diminished"
    if "b3" in tones and not {"b5", "6", "7"} & tones:
        return "minor"
    return "major" if "3" in tones else "other"


def _following(chord: Chord, after: Chord | None) -> frozenset[str]:
    if after is None:
        return frozenset()
    motion = (after.root - chord.root).semitones % 12
    if motion == _HALF_STEP_BELOW:
        return frozenset({"half step below"})
    if motion != _FIFTH_BELOW:
        return frozenset()
    kinds = {"fifth below, minor" if "b3" in after.degrees else "fifth below, major"}
    if is_dominant(after.quality) or {"4", "b7"} <= set(after.degrees):
        kinds.add("fifth below, dominant")
    return frozenset(kinds)


@functools.cache
def _contexts() -> tuple[_Context, ...]:
    text = files("gripwright.tune").joinpath("chord_scales.toml").read_text(encoding="utf-8")
    by_name = {scale.name: scale for scale in scales()}
    return tuple(_context(row, by_name) for row in tomllib.loads(text)["context"])


def _context(row: dict[str, Any], by_name: dict[str, Scale]) -> _Context:
    return _Context(
        family=row["family"],
        mode=row.get("mode"),
        places=frozenset(Degree(name).pitch_class for name in row.get("degrees", "").split()),
        following=row.get("next"),
        scales=tuple(by_name[name] for name in row["scales"]),
        avoid=frozenset(row.get("avoid", "").split()),
        reason=row["reason"],
    )
