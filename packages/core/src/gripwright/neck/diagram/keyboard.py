"""Piano keyboards: the tones of a grip as a pianist sees them.

Two keyboards over the same range: above, the tones in close position, as the chord orders them;
below, as the grip gives them. Labels of black keys stand above the keys, those of white keys below.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from gripwright.neck.diagram.palette import Theme
from gripwright.neck.diagram.picture import Block, Mark, Picture, Words, size_within, width_in_ems
from gripwright.neck.diagram.tone import tone_mark
from gripwright.neck.voicing import Voicing
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.pitch import Pitch

Tone = tuple[Pitch, Degree]
"""A pitch and the degree that it is."""

_WHITE: Final = 9.0
_BLACK: Final = 6.2
_LONG: Final = 36.0
_SHORT: Final = 23.0
_CAPTION: Final = 11.0
_LABELS: Final = 11.0
_KEYBOARD: Final = _CAPTION + _LABELS + _LONG + _LABELS
_BETWEEN: Final = 8.0
_LEAST_KEYS: Final = 2 * SEMITONES_IN_OCTAVE
_EDGE: Final = 3.0
_LABEL_ROOM: Final = 15.0
_BLACK_CLASSES: Final = frozenset({1, 3, 6, 8, 10})
# A keyboard ends beside the groups of black keys: it starts at C or F and ends at E or B.
_STARTS: Final = (0, 5)
_ENDS: Final = (4, 11)


def close_position(voicing: Voicing) -> tuple[Tone, ...]:
    """The tones of a voicing, each once, piled up as the chord orders them.

    The bass of a slash chord comes first, then the degrees by their numbers; each tone is the next
    place above the one before. The pile begins at the lowest pitch of the voicing or next above it.

    Args:
        voicing: The voicing.

    Example:
        >>> from gripwright import Chord, Instrument, find_voicings
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> table = find_voicings(Chord.parse("Cmaj7"), guitar)
        >>> grip = next(one for one in table if one.shape == "x-3-5-4-5-x")
        >>> [str(pitch) for pitch, _ in close_position(grip)]
        ['C3', 'E3', 'G3', 'B3']
    """
    chord = voicing.chord
    bass = None if chord.bass is None else (chord.bass - chord.root).semitones % SEMITONES_IN_OCTAVE
    notes = dict(zip(voicing.degrees, voicing.notes, strict=True))
    order = sorted(notes, key=lambda d: (d.pitch_class != bass, d.semitones, d.steps))
    # One below the lowest pitch, so that the first tone may be that pitch itself.
    last = min(voicing.midi) - 1
    tones = []
    for degree in order:
        note = notes[degree]
        last += (note.pitch_class - last - 1) % SEMITONES_IN_OCTAVE + 1
        tones.append((Pitch.spell(note, last), degree))
    return tuple(tones)


def keyboards(voicing: Voicing, label: str, theme: Theme) -> Picture:
    """Draw the tones of a voicing on two keyboards, one above the other.

    Args:
        voicing: The voicing.
        label: What the keys carry: ``note`` or ``interval``; anything else gives degrees.
        theme: The colours.
    """
    close = close_position(voicing)
    pairs = zip(voicing.pitches, voicing.degrees, strict=True)
    gripped = sorted(dict.fromkeys(pairs), key=lambda tone: tone[0].midi)
    sounding = [pitch.midi for pitch, _ in (*close, *gripped)]
    first = _from(min(sounding))
    keys = range(first, _to(max(*sounding, first + _LEAST_KEYS - 1)) + 1)
    width = _WHITE * sum(not _is_black(key) for key in keys) + 2 * _EDGE
    rows = [
        f"{name}: {' '.join(str(pitch) for pitch, _ in tones)}"
        for name, tones in (("Close", close), ("Grip", gripped))
    ]
    size = size_within(max(rows, key=width_in_ems), width - 2 * _EDGE, 9)
    marks: list[Mark] = []
    for row, tones in enumerate((close, gripped)):
        top = row * (_KEYBOARD + _BETWEEN)
        marks.append(Words(_EDGE, top + _CAPTION / 2, rows[row], size, theme.ink, "start"))
        marks += _keys(keys, top + _CAPTION + _LABELS, theme)
        marks += _tones(keys, tones, label, top + _CAPTION + _LABELS, theme)
    description = f"On a piano keyboard, in close position and as gripped. {'. '.join(rows)}."
    height = 2 * _KEYBOARD + _BETWEEN
    return Picture(width, height, tuple(marks), description=description)


def _keys(keys: range, top: float, theme: Theme) -> Iterator[Mark]:
    edge = theme.key_edge
    for key in keys:
        if not _is_black(key):
            x, y = _x(keys, key), top + _LONG / 2
            yield Block(x, y, _WHITE, _LONG, theme.white_key, edge, 0.8, corner=1.0)
    for key in keys:
        if _is_black(key):
            x, y = _x(keys, key), top + _SHORT / 2
            yield Block(x, y, _BLACK, _SHORT, theme.black_key, edge, 0.8, corner=1.0)


def _tones(
    keys: range, tones: Sequence[Tone], label: str, top: float, theme: Theme
) -> Iterator[Mark]:
    labels = [_label(tone, label) for tone in tones]
    for (pitch, degree), text in zip(tones, labels, strict=True):
        x, black = _x(keys, pitch.midi), _is_black(pitch.midi)
        y = top + (_SHORT - 5.0 if black else _LONG - 6.5)
        square = degree.pitch_class == 0
        paint = theme.key_root if square else theme.key_tone
        yield tone_mark(x, y, 3.6 if black else 4.4, paint, square=square)
        beside = top - _LABELS / 2 if black else top + _LONG + _LABELS / 2
        neighbours = [
            (abs(_x(keys, other.midi) - x), words)
            for (other, _), words in zip(tones, labels, strict=True)
            if other != pitch and _is_black(other.midi) == black
        ]
        # Two labels in one row share the way from key to key.
        sizes = [
            2 * way / (width_in_ems(text) + width_in_ems(words) + 0.2) for way, words in neighbours
        ]
        size = min([size_within(text, _LABEL_ROOM, 9), *sizes])
        yield Words(x, beside, text, size, theme.ink, bold=True)


def _label(tone: Tone, label: str) -> str:
    pitch, degree = tone
    return {"note": str(pitch.note), "interval": str(degree.interval)}.get(label, str(degree))


def _x(keys: range, key: int) -> float:
    """The middle of a key."""
    whites = sum(not _is_black(one) for one in range(keys.start, key))
    return _EDGE + _WHITE * (whites + (0.0 if _is_black(key) else 0.5))


def _is_black(key: int) -> bool:
    return key % SEMITONES_IN_OCTAVE in _BLACK_CLASSES


def _from(midi: int) -> int:
    return next(key for key in range(midi, midi - 12, -1) if key % 12 in _STARTS)


def _to(midi: int) -> int:
    return next(key for key in range(midi, midi + 12) if key % 12 in _ENDS)
