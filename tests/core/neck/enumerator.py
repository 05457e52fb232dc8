"""A literal enumerator of every playable voicing, against which the search is held.

It follows the definitions of the search word by word, one shape at a time and in plain Python: no
arrays, no halves, no clever order. Only two shortcuts are taken, both trivially right: a string is
offered no fret whose tone the chord does not have, and a shape is dropped as soon as the strings
placed so far already lie farther apart than the hand reaches.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import attrs

from gripwright import Chord, Instrument, Note, Pitch

MUTED = -1
TOLERANCE_MM = 1e-9


@attrs.frozen
class Neck:
    """What the definitions need of an instrument: strings from the bass side to the treble side."""

    opens: tuple[int, ...]
    scales_mm: tuple[float, ...]
    first_frets: tuple[int, ...]
    frets: int
    align_fret: float = 0.0

    def sounding(self, string: int, fret: int) -> int:
        """Return the MIDI number of a string at a fret, 0 being the open string."""
        return self.opens[string] + (fret - self.first_frets[string] if fret > 0 else 0)

    def place_mm(self, string: int, fret: int) -> float:
        """Return how far a fret of a string lies along the neck."""
        return self.scales_mm[string] * (2 ** (-self.align_fret / 12) - 2 ** (-fret / 12))

    def presses_of(self, string: int) -> range:
        """Return the frets at which a string can be pressed."""
        return range(self.first_frets[string] + 1, self.frets + 1)

    def with_capo(self, capo: int) -> "Neck":
        """Return the neck that a capo leaves: frets counted from it, lengths shrunk."""
        return Neck(
            opens=tuple(
                pitch + max(capo - first, 0)
                for pitch, first in zip(self.opens, self.first_frets, strict=True)
            ),
            scales_mm=tuple(length * 2 ** (-capo / 12) for length in self.scales_mm),
            first_frets=tuple(max(first - capo, 0) for first in self.first_frets),
            frets=self.frets - capo,
            align_fret=self.align_fret - capo,
        )


@attrs.frozen
class Tones:
    """What the definitions need of a chord, as pitch classes; the first listed name of each."""

    root: int
    names: dict[int, str]
    essential: tuple[frozenset[int], ...]
    bass: int | None = None

    @property
    def foreign_bass(self) -> int | None:
        """The slash bass where it is no degree of the chord."""
        return None if self.bass in self.names else self.bass

    @property
    def count(self) -> int:
        """The number of different tones, a foreign bass among them."""
        return len(self.names) + (self.foreign_bass is not None)


@attrs.frozen
class Limits:
    """The conditions of a search, under the names that the search gives them."""

    stroke: str = "any"
    pluck_fingers: int = 4
    min_notes: int | None = None
    max_notes: int | None = None
    min_tones: int | None = None
    root: str = "optional"
    lowest_fret: int | None = None
    highest_fret: int | None = None
    strings: tuple[int, ...] | None = None
    no_open: bool = False
    no_inner_mutes: bool = False
    no_doubles: bool = False
    bass_degree: str | None = None
    top_note: Note | Pitch | None = None
    top_degree: str | None = None


def neck_of(instrument: Instrument) -> Neck:
    """Take from an instrument without a capo what the definitions need."""
    return Neck(
        opens=tuple(string.open.midi for string in instrument.strings),
        scales_mm=tuple(string.scale_mm for string in instrument.strings),
        first_frets=tuple(string.first_fret for string in instrument.strings),
        frets=instrument.frets,
        align_fret=instrument.align_fret,
    )


def tones_of(chord: Chord) -> Tones:
    """Take from a chord what the definitions need."""
    root = chord.root.pitch_class
    names: dict[int, str] = {}
    for degree in chord.degrees:
        names.setdefault((root + degree.semitones) % 12, str(degree))
    return Tones(
        root=root,
        names=names,
        essential=tuple(
            frozenset((root + degree.semitones) % 12 for degree in group)
            for group in chord.essential
        ),
        bass=None if chord.bass is None else chord.bass.pitch_class,
    )


def presses(frets: Sequence[int]) -> list[tuple[int, tuple[int, ...]]]:
    """Return the fewest presses of a shape as (fret, strings), by fret and then from the bass."""
    found: list[tuple[int, tuple[int, ...]]] = []
    for fret in sorted({fret for fret in frets if fret > 0}):
        groups: list[list[int]] = []
        for string in (string for string, other in enumerate(frets) if other == fret):
            if groups and all(frets[i] >= fret for i in range(groups[-1][-1], string)):
                groups[-1].append(string)
            else:
                groups.append([string])
        for group in groups:
            found.extend((fret, part) for part in _cut(frets, fret, group))
    return found


def _cut(frets: Sequence[int], fret: int, group: list[int]) -> list[tuple[int, ...]]:
    """Leave a press whole, or cut it where it would lie flat over a string that must ring."""
    lies_flat = group[-1] - group[0] >= 2
    if not (lies_flat and any(0 <= other < fret for other in frets[group[-1] + 1 :])):
        return [tuple(group)]
    parts: list[tuple[int, ...]] = []
    for string in group:
        if parts and parts[-1] == (string - 1,):
            parts[-1] = (string - 1, string)
        else:
            parts.append((string,))
    return parts


def reach_mm(neck: Neck, frets: Sequence[int]) -> float:
    """Return how far the fretted strings lie apart along the neck."""
    places = [neck.place_mm(string, fret) for string, fret in enumerate(frets) if fret > 0]
    return max(places) - min(places) if places else 0.0


def is_playable(neck: Neck, frets: Sequence[int], *, fingers: int, reach: float) -> bool:
    """Tell whether a hand can hold a shape: its reach, its presses and their spread."""
    if reach_mm(neck, frets) > reach + TOLERANCE_MM:
        return False
    held = presses(frets)
    if len(held) < fingers:
        return True
    places = [neck.place_mm(strings[0], fret) for fret, strings in held]
    return len(held) == fingers and all(
        abs(here - there) <= reach * 2 / 3 + TOLERANCE_MM for here, there in pairwise(places)
    )


def is_voicing(tones: Tones, neck: Neck, frets: Sequence[int], limits: Limits) -> bool:
    """Tell whether a shape sounds the chord under the conditions that concern its tones."""
    pitches = [neck.sounding(string, fret) for string, fret in enumerate(frets) if fret >= 0]
    if not pitches:
        return False
    low, high = min(pitches), max(pitches)
    classes = {pitch % 12 for pitch in pitches}
    upper = {pitch % 12 for pitch in pitches if pitch != low}
    usual = min(3, tones.count)
    return (
        upper <= tones.names.keys()
        and (low % 12 in tones.names or low % 12 == tones.bass)
        and tones.bass in {None, low % 12}
        and all(group & classes for group in tones.essential)
        and len(pitches) >= (usual if limits.min_notes is None else limits.min_notes)
        and len(classes) >= (usual if limits.min_tones is None else limits.min_tones)
        and (limits.max_notes is None or len(pitches) <= limits.max_notes)
        and (limits.root != "required" or tones.root in classes)
        and (limits.root != "none" or tones.root not in classes)
        and not (limits.no_doubles and len(classes) < len(pitches))
        and limits.bass_degree in {None, tones.names.get(low % 12)}
        and limits.top_degree in {None, tones.names.get(high % 12)}
        and _tops(high, limits.top_note)
    )


def _tops(high: int, wanted: Note | Pitch | None) -> bool:
    """Tell whether the highest pitch is the one asked for, in any octave if it is a note."""
    if isinstance(wanted, Pitch):
        return high == wanted.midi
    return wanted is None or high % 12 == wanted.pitch_class


def is_admitted(frets: Sequence[int], limits: Limits) -> bool:
    """Tell whether a shape meets the conditions that concern frets and strings alone."""
    fretted = [fret for fret in frets if fret > 0]
    sounding = [string for string, fret in enumerate(frets) if fret != MUTED]
    inner_mutes = [
        string
        for string, fret in enumerate(frets)
        if fret == MUTED and sounding and sounding[0] < string < sounding[-1]
    ]
    return (
        (limits.lowest_fret is None or all(fret >= limits.lowest_fret for fret in fretted))
        and (limits.highest_fret is None or all(fret <= limits.highest_fret for fret in fretted))
        and (
            limits.strings is None
            or set(sounding) == {len(frets) - number for number in limits.strings}
        )
        and not (limits.no_open and 0 in frets)
        and not (limits.no_inner_mutes and inner_mutes)
        and not (limits.stroke == "pluck" and len(sounding) > limits.pluck_fingers)
        and not (
            limits.stroke == "strum"
            and any(frets[i - 1] <= 0 and frets[i + 1] <= 0 for i in inner_mutes)
        )
    )


def shapes(tones: Tones, neck: Neck, reach: float) -> Iterator[tuple[int, ...]]:
    """Yield every shape of the chord's tones within reach, in lexicographic order."""
    allowed = {*tones.names, tones.bass}
    choices = [
        [
            MUTED,
            *(
                fret
                for fret in (0, *neck.presses_of(string))
                if neck.sounding(string, fret) % 12 in allowed
            ),
        ]
        for string in range(len(neck.opens))
    ]
    return _extend((), choices, neck, reach)


def _extend(
    begun: tuple[int, ...], choices: list[list[int]], neck: Neck, reach: float
) -> Iterator[tuple[int, ...]]:
    """Yield every way to go on from the strings placed so far, as nested loops would."""
    if len(begun) == len(choices):
        yield begun
        return
    for fret in choices[len(begun)]:
        longer = (*begun, fret)
        if fret <= 0 or reach_mm(neck, longer) <= reach + TOLERANCE_MM:
            yield from _extend(longer, choices, neck, reach)


def voicings(
    tones: Tones,
    neck: Neck,
    *,
    fingers: int = 4,
    reach: float = 115.0,
    limits: Limits | None = None,
) -> list[tuple[int, ...]]:
    """Return every playable voicing, bass side first, muted before open."""
    limits = limits or Limits()
    return [
        frets
        for frets in shapes(tones, neck, reach)
        if is_admitted(frets, limits)
        and is_voicing(tones, neck, frets, limits)
        and is_playable(neck, frets, fingers=fingers, reach=reach)
    ]
