"""What is settled on whole shapes: hand, bass, top, order of tones, right hand."""

from __future__ import annotations

import functools

import numpy as np
from numpy.typing import NDArray

from gripwright.neck.conditions import Conditions
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.neck.pairs import Pairs
from gripwright.neck.presses import Columns, count_presses, press_starts, spread_fits
from gripwright.neck.tones import Stacks, Tones
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.note import Note

_MASK_BITS = 64


def settled(
    pairs: Pairs, tones: Tones, hand: Hand, asked: Conditions
) -> tuple[Pairs, NDArray[np.int8]]:
    """The shapes that are voicings a hand can play, and their numbers of presses.

    Args:
        pairs: Shapes within the reach whose tones fit.
        tones: The tones of the search.
        hand: The hand.
        asked: The conditions.
    """
    for test in (_bass_fits, _top_fits, _foreign_only_in_bass, _order_fits, _right_hand_fits):
        keep = test(pairs, tones, asked)
        if keep is not None:
            pairs = pairs.take(np.flatnonzero(keep))
    columns = pairs.columns()
    starts = press_starts(columns)
    presses = count_presses(starts)
    keep = presses <= hand.fingers
    full = np.flatnonzero(presses == hand.fingers)
    keep[full] = spread_fits(
        [column[full] for column in columns],
        [start[full] for start in starts],
        pairs.neck.instrument,
        hand,
    )
    rows = np.flatnonzero(keep)
    return pairs.take(rows), presses[rows]


def _above_root(midi: NDArray[np.int16], pairs: Pairs) -> NDArray[np.int16]:
    return (midi - np.int16(pairs.neck.chord.root.pitch_class)) % np.int16(SEMITONES_IN_OCTAVE)


def _bass_fits(pairs: Pairs, tones: Tones, asked: Conditions) -> NDArray[np.bool_] | None:
    wanted = {tones.bass} if tones.bass is not None else set()
    if asked.bass_degree is not None:
        wanted.add(asked.bass_degree.pitch_class)
    if not wanted:
        return None
    place = _above_root(pairs.low(), pairs)
    fits = np.ones(len(place), bool)
    for tone in wanted:
        fits &= place == tone
    return fits


def _top_fits(pairs: Pairs, _tones: Tones, asked: Conditions) -> NDArray[np.bool_] | None:
    if asked.top_note is None and asked.top_degree is None:
        return None
    high = pairs.high()
    keep = np.ones(len(high), bool)
    if asked.top_degree is not None:
        keep &= _above_root(high, pairs) == asked.top_degree.pitch_class
    if isinstance(asked.top_note, Note):
        keep &= high % SEMITONES_IN_OCTAVE == asked.top_note.pitch_class
    elif asked.top_note is not None:
        keep &= high == asked.top_note.midi
    return keep


def _foreign_only_in_bass(
    pairs: Pairs, tones: Tones, _asked: Conditions
) -> NDArray[np.bool_] | None:
    if not tones.foreign or tones.stacks is not None:
        return None
    low = pairs.low()
    keep = np.ones(len(low), bool)
    for sounds, pitch in sounding_pitches(pairs):
        keep &= ~sounds | (pitch == low) | (_above_root(pitch, pairs) != tones.bass)
    return keep


def _order_fits(pairs: Pairs, tones: Tones, _asked: Conditions) -> NDArray[np.bool_] | None:
    if tones.stacks is None:
        return None
    sounding = sounding_pitches(pairs)
    fits = _stacked(pairs, sounding, tones.stacks)
    if tones.stacks_above_bass:
        low = pairs.low()
        voices = [(sounds & (pitch != low), pitch) for sounds, pitch in sounding]
        basses = np.sum([sounds & (pitch == low) for sounds, pitch in sounding], axis=0)
        fits |= (basses == 1) & _stacked(pairs, voices, tones.stacks_above_bass)
    return fits


def _stacked(
    pairs: Pairs, voices: list[tuple[NDArray[np.bool_], NDArray[np.int16]]], stacks: Stacks
) -> NDArray[np.bool_]:
    """The rows whose voices make one of the stacks, no two voices on one pitch."""
    far = np.int16(np.iinfo(np.int16).max)
    low = functools.reduce(np.minimum, (np.where(s, pitch, far) for s, pitch in voices))
    stack = np.zeros(len(low), np.uint64)
    inside = np.ones(len(low), bool)
    for sounds, pitch in voices:
        above = np.where(sounds, pitch - low, np.int16(0))
        inside &= above < _MASK_BITS
        bit = np.uint64(1) << np.minimum(above, _MASK_BITS - 1).astype(np.uint64)
        inside &= ~sounds | (stack & bit == 0)
        stack |= np.where(sounds, bit, np.uint64(0))
    place = _above_root(low, pairs)
    fits = np.zeros(len(low), bool)
    for tone, patterns in stacks.items():
        rows = np.flatnonzero(place == tone)
        fits[rows] = np.isin(stack[rows], patterns)
    return fits & inside


def _right_hand_fits(pairs: Pairs, _tones: Tones, asked: Conditions) -> NDArray[np.bool_] | None:
    if not asked.no_inner_mutes and asked.stroke != "strum":
        return None
    columns = pairs.columns()
    keep = np.ones(len(pairs), bool)
    for string, inner in enumerate(inner_mutes(columns)):
        damped = np.zeros(len(pairs), bool)
        if not asked.no_inner_mutes:
            for neighbour in columns[max(0, string - 1) : string + 2]:
                damped |= neighbour > 0
        keep &= ~inner | damped
    return keep


def inner_mutes(columns: Columns) -> list[NDArray[np.bool_]]:
    """For each string, the rows in which it is muted between sounding ones.

    Args:
        columns: Frets by string, (strings) arrays of (rows,).
    """
    sounds = [column >= 0 for column in columns]
    before = np.zeros_like(sounds[0])
    inner = []
    for sound in sounds:
        inner.append(before & ~sound)
        before = before | sound
    after = np.zeros_like(sounds[0])
    for string in reversed(range(len(columns))):
        inner[string] = inner[string] & after
        after = after | sounds[string]
    return inner


def sounding_pitches(
    pairs: Pairs,
) -> list[tuple[NDArray[np.bool_], NDArray[np.int16]]]:
    """For each string whether it sounds, and its MIDI number, which means nothing where muted.

    Args:
        pairs: The shapes.

    Returns:
        (strings) pairs of (rows,) arrays, from the bass side.
    """
    return [
        (column >= 0, string_pitches(pairs.neck.instrument, string)[column])
        for string, column in enumerate(pairs.columns())
    ]


@functools.lru_cache(maxsize=64)
def string_pitches(instrument: Instrument, string: int) -> NDArray[np.int16]:
    """MIDI number of a string at each fret; the last entry, for muted, means nothing."""
    frets = range(instrument.frets + 1)
    return np.array([*(instrument.sounding(string, fret) for fret in frets), 0], np.int16)
