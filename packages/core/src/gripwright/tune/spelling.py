"""How a note is written in a key: by its signature, else with few accidentals."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from gripwright.errors import ConditionError
from gripwright.theory.degree import Degree
from gripwright.theory.note import LETTERS, Note
from gripwright.tune.key import Key

_MAJOR: Final = tuple(map(Degree, ("1", "2", "3", "4", "5", "6", "7")))
_MINOR: Final = tuple(map(Degree, ("1", "2", "b3", "4", "5", "b6", "b7", "7")))
_WHITE_KEYS: Final = frozenset(map(Note.parse, ("Cb", "Fb", "E#", "B#")))
"""Notes with an accidental that have a name without one."""


def signature_notes(key: Key) -> tuple[Note, ...]:
    """The notes of a key, in a minor one the leading note too.

    Example:
        >>> [str(note) for note in signature_notes(Key.parse("C#m"))]
        ['C#', 'D#', 'E', 'F#', 'G#', 'A', 'B', 'B#']
    """
    degrees = _MINOR if key.minor else _MAJOR
    return tuple(key.tonic + degree.interval for degree in degrees)


def spelled(note: Note, key: Key | None) -> Note:
    """A note as players write it in a key.

    A note with one accidental or none stays as it is, but Cb, Fb, E# and B# only in keys that
    have them. Any other takes the name that the key has for it, else one without accidentals,
    else one with a single accidental of its own direction (common practice).

    Args:
        note: The note.
        key: The key; without one, only double accidentals are respelled.

    Returns:
        A note of the same sound with at most one accidental.

    Example:
        >>> str(spelled(Note.parse("Fb"), Key.parse("Ab"))), str(spelled(Note.parse("Fb"), None))
        ('E', 'Fb')
        >>> str(spelled(Note.parse("Cb"), Key.parse("Gb")))
        'Cb'
    """
    own = () if key is None else signature_notes(key)
    simple = abs(note.alteration) <= 1
    if simple and (key is None or note in own or note not in _WHITE_KEYS):
        return note
    return min(
        _simple_names(note),
        key=lambda name: (
            name not in own,
            name.alteration != 0,
            name.alteration * note.alteration < 0,
        ),
    )


def fewest_accidentals(key_tonic: Note, *, minor: bool, flats: bool | None = None) -> Key:
    """The key on a note, or on the other name of it that needs fewer accidentals.

    Args:
        key_tonic: The tonic, however it is spelled.
        minor: Whether the key is minor.
        flats: Which to take where both need six: True for flats, False for sharps, None for
            the tonic as it is spelled.

    Returns:
        A key of at most six flats or sharps.

    Example:
        >>> str(fewest_accidentals(Note.parse("C#"), minor=False))
        'Db'
        >>> [str(fewest_accidentals(Note.parse("F#"), minor=False, flats=f)) for f in (None, True)]
        ['F#', 'Gb']
    """
    return min(
        _keys_on(key_tonic, minor=minor),
        key=lambda key: (
            abs(key.fifths),
            (key.tonic != key_tonic) if flats is None else (key.fifths < 0) != flats,
        ),
    )


def _keys_on(tonic: Note, *, minor: bool) -> Iterator[Key]:
    for name in _simple_names(tonic):
        try:
            yield Key(name, minor)
        except ConditionError:
            continue


def _simple_names(note: Note) -> list[Note]:
    names = (Note(letter, alteration) for letter in LETTERS for alteration in (-1, 0, 1))
    return [name for name in names if name.pitch_class == note.pitch_class]
