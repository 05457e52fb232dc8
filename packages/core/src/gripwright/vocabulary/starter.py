"""The starter set: what fills the first day of a vocabulary.

Each row of `starter.toml` says what to show, never where the fingers go: the grips are those that
the library's own search and teaching order find first on the player's instrument, for the hand.
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Iterator
from importlib.resources import files
from typing import Any, Final

import attrs
import numpy as np

from gripwright.neck.ranking import teaching
from gripwright.neck.recipe import VoicingStrategy
from gripwright.neck.search import find_voicings
from gripwright.neck.strategies import BUILTIN_STRATEGIES
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.vocabulary.entry import Facts
from gripwright.vocabulary.placing import on_root
from gripwright.vocabulary.profile import Profile
from gripwright.vocabulary.questioning import grip_for, question

_STRATEGIES: Final = {strategy.name: strategy for strategy in BUILTIN_STRATEGIES}

_FEW_STRINGS: Final = 5


@attrs.frozen
class StarterGrip:
    """A grip of the starter set.

    Args:
        stage: What it belongs to, such as ``"open chords"``; stages are met in order.
        grip: The grip.

    Example:
        >>> from gripwright import Instrument
        >>> first = starter_set(Profile(Instrument.from_text("E2 A2 D3 G3 B3 E4")))[0]
        >>> print(first.stage, first.grip.shape)
        open chords x-3-2-0-1-0
    """

    stage: str
    grip: Voicing


def starter_set(profile: Profile) -> tuple[StarterGrip, ...]:
    """The first grips of a vocabulary on the player's instrument.

    Open chords, the movable forms with the root on each of the two lowest strings, shells and
    the first four-note grips on inner strings (common practice; the choice is ours). What an
    instrument or a hand cannot do is left out, and so is a grip that an earlier row brought.

    Args:
        profile: The player.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> first = starter_set(Profile(guitar))
        >>> [f"{one.grip.chord} {one.grip.shape}" for one in first][:3]
        ['C x-3-2-0-1-0', 'A x-0-2-2-2-0', 'G 3-2-0-0-0-3']
    """
    return tuple(_grips(profile))


def _grips(profile: Profile) -> Iterator[StarterGrip]:
    met: set[str] = set()
    strings = len(profile.instrument.strings)
    for row in _rows():
        rooted = "root_string_from_bass" in row and strings <= _FEW_STRINGS
        if rooted or strings > row.get("most_strings", strings):
            continue
        for symbol in row["chords"].split():
            grip = _first(Chord.parse(symbol), row, profile)
            if grip is None or question(grip) is not None:
                continue
            name = Facts.of(grip).id
            if name not in met:
                met.add(name)
                yield StarterGrip(row["stage"], grip)


def _first(chord: Chord, row: dict[str, Any], profile: Profile) -> Voicing | None:
    """The grip that a teacher would show first under the conditions of a row."""
    instrument = profile.instrument
    asked: dict[str, Any] = {"stroke": profile.stroke, **row.get("asked", {})}
    if len(instrument.strings) > _FEW_STRINGS:
        asked["bass_degree"] = "1"
    highest = min(asked.get("highest_fret", instrument.frets), instrument.frets)
    strategy: VoicingStrategy | None = _STRATEGIES.get(row.get("strategy", ""))
    lowest_string = row.get("root_string_from_bass")
    table = find_voicings(
        chord, instrument, profile.hand, strategy, **{**asked, "highest_fret": highest}
    )
    keep = np.ones(len(table), bool)
    if lowest_string is not None:
        keep &= (table.frets[:, : lowest_string - 1] < 0).all(axis=1)
        keep &= table.frets[:, lowest_string - 1] >= 0
    if row.get("to_treble", False):
        keep &= table.frets[:, -1] >= 0
    table = table[np.flatnonzero(keep)]
    if not len(table):
        return None
    best = table.order_by(teaching)[0]
    grip = grip_for(chord, instrument, best.frets)
    # Met at its lowest place, so that two symbols for one form are one grip.
    return on_root(grip, chord.root)[0]


@functools.cache
def _rows() -> tuple[dict[str, Any], ...]:
    text = files("gripwright.vocabulary").joinpath("starter.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text)["row"])
