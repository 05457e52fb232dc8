"""How a request calls an entry: by its name, by its handle, or as a grip at any place."""

from __future__ import annotations

import base64
import hashlib
from typing import TYPE_CHECKING, Final

from gripwright.errors import ConditionError, NotationError, UnknownNameError
from gripwright.named import nearest_names
from gripwright.theory.chord import Chord
from gripwright.vocabulary import Facts, grip_for
from gripwright_server.operations.grip import frets_of
from gripwright_server.store import profile_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright.neck.instrument import Instrument
    from gripwright_server.store import Store

ENTRY_HELP: Final = (
    "a grip of the vocabulary: its handle, such as k7f2qa, or the grip at any place with what it"
    " serves there, such as x-5-7-6-7-x=Dmaj7"
)
"""What a request takes that is about one entry."""

_LENGTH: Final = 6
_SERVES: Final = "="


def handle_of(name: str) -> str:
    """The handle of an entry: six letters and digits that do not give the grip away.

    Args:
        name: The name of the entry.

    Example:
        >>> handle_of("guitar:x-3-5-4-5-x=Cmaj7")
        '24owmh'
    """
    digest = hashlib.blake2b(name.encode(), digest_size=5).digest()
    return base64.b32encode(digest).decode("ascii").lower()[:_LENGTH]


def name_of(text: str, store: Store) -> str:
    """The name of the entry that a text of a request means.

    Args:
        text: A name, a handle, or a grip and what it serves.
        store: The store.

    Raises:
        UnknownNameError: There is no such entry; or several have that handle, which are told.
        NotationError: The grip or its symbol cannot be read.
        ConditionError: A grip, and the store has no profile whose instrument it is on.
    """
    names = store.names()
    if text in names:
        return text
    if _SERVES in text:
        profile = profile_of(store)
        found = _grip_name(text, profile.instrument)
        if found not in names:
            raise _unknown(text, names)
        return found
    asked = text.strip().lower()
    found_names = [name for name in names if handle_of(name) == asked]
    if len(found_names) != 1:
        raise _unknown(text, found_names or names)
    return found_names[0]


def _grip_name(text: str, instrument: Instrument) -> str:
    shape, _, symbol = text.rpartition(_SERVES)
    shape = shape.removeprefix(f"{instrument.id}:")
    chord = Chord.parse(symbol)
    try:
        return Facts.of(grip_for(chord, instrument, frets_of(shape, instrument))).id
    except ConditionError as error:
        raise NotationError(
            what="shape", text=shape, position=0, expected=error.expected
        ) from error


def _unknown(text: str, names: Iterable[str]) -> UnknownNameError:
    known = list(names)
    near = (*nearest_names(text, known), *nearest_names(text, map(handle_of, known)))
    return UnknownNameError(
        kind="entry", name=text, nearest=near[:3], hint="the command vocabulary list shows them"
    )
