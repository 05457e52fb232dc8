"""The teaching order: what a teacher would show first.

A row's weight is a sum of reasons to show it later, each a row of the table below. The reasons
are common practice, the weights our own.
"""

from __future__ import annotations

from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

from gripwright.neck.pairs import Pairs
from gripwright.neck.settle import sounding_pitches
from gripwright.neck.table import Column, VoicingTable
from gripwright.neck.tones import TONES_IN_MASK, mask_of
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE

WEIGHTS: Final = {
    "reach_mm": 0.2,
    "press": 2.5,
    "inner_mute": 10.0,
    "fret": 2.0,
    "fret_beyond_fingers": 6.0,
    "past_the_body": 34.0,
    "open_far_up": 60.0,
    "open_position": -14.0,
    "string_short_of_usual": 13.0,
    "string_beyond_usual": 2.5,
    "high_string_lowest": 4.0,
    "named_family": -9.0,
    "unison": 9.0,
    "root_not_lowest": 40.0,
    "no_root": 28.0,
    "tone_left_out": 9.0,
    "fifth_left_out": 2.0,
    "ninth_left_out": 2.0,
    "tone_doubled": 3.0,
    "dominant_third_doubled": 6.0,
    "minor_ninth": 35.0,
    "fifth_beside_b13": 35.0,
    "low_third": 32.0,
}
"""What each reason adds; per millimetre, press, mute, fret or string where it counts those."""

_LOWEST_CLEAR_THIRD: Final = 43
_MAJOR_THIRD: Final = 4
_MINOR_NINTH: Final = 13
_NEAR_THE_NUT: Final = 4
_BODY_JOINS: Final = 14
_USUAL_TRIAD_NOTES: Final = 5
_USUAL_NOTES: Final = 4
_USUAL_DOUBLES: Final = 3
_SEVENTH: Final = 7
_NINTH: Final = 9
_SIXTH: Final = "6"
_FIRST_FAMILIES: Final = ("drop-2", "drop-3", "shell")


def teaching_weight(table: VoicingTable) -> NDArray[np.float64]:
    """How late a teacher would show each row: what grip and tones weigh together.

    Args:
        table: The voicings.

    Returns:
        (rows,) float64; smaller comes first.
    """
    later: NDArray[np.float64] = grip_weight(table) + _tones_weight(table)
    return later


def grip_weight(table: VoicingTable) -> NDArray[np.float64]:
    """How awkward each row is to hold and how muddy it sounds, whatever its tones are called.

    Args:
        table: The voicings.

    Returns:
        (rows,) float64; smaller is easier.
    """
    columns = table.columns
    weight = WEIGHTS
    span = columns["highest_fret"] - columns["lowest_fret"] + 1
    open_strings = columns["open_strings"] > 0
    whole = (
        (columns["inner_mutes"] == 0)
        & (columns["highest_fret"] <= _NEAR_THE_NUT)
        & (columns["notes"] >= _USUAL_NOTES)
    )
    far_up = open_strings & (columns["highest_fret"] > _NEAR_THE_NUT)
    later: NDArray[np.float64] = (
        weight["reach_mm"] * columns["reach_mm"]
        + weight["press"] * columns["presses"]
        + weight["inner_mute"] * columns["inner_mutes"]
        + weight["fret"] * columns["lowest_fret"]
        + weight["fret_beyond_fingers"] * np.maximum(span - _NEAR_THE_NUT, 0)
        + weight["past_the_body"] * (columns["highest_fret"] > _BODY_JOINS)
        + weight["open_far_up"] * far_up
        + weight["open_position"] * (open_strings & whole)
        + _stack_weight(table.pairs, table.chord)
    )
    return later


def _tones_weight(table: VoicingTable) -> Column:
    chord, mask = table.chord, table.pairs.mask().astype(np.int32)
    notes = table.columns["notes"]
    triad = not any(degree.number == _SEVENTH or degree == _SIXTH for degree in chord.degrees)
    usual = _USUAL_TRIAD_NOTES if triad else _USUAL_NOTES
    later: Column = WEIGHTS["string_short_of_usual"] * np.maximum(usual - notes, 0)
    if not triad:
        later += WEIGHTS["string_beyond_usual"] * np.maximum(notes - usual, 0)
        found = table.families()
        first = np.any([found[family] for family in _FIRST_FAMILIES], axis=0)
        later += WEIGHTS["named_family"] * first
    if chord.bass is None:
        later += WEIGHTS["root_not_lowest"] * (table.columns["bass_degree"] != "1")
    later += WEIGHTS["no_root"] * (mask & 1 == 0)
    for degree in (degree for degree in chord.degrees if degree != "1"):
        silent = mask & mask_of([degree]) == 0
        later += silent * WEIGHTS[_left_out(degree, chord)]
    later += WEIGHTS["high_string_lowest"] * np.maximum(_outer_mutes(table) - 1, 0)
    doubled = notes - TONES_IN_MASK[mask] - (_USUAL_DOUBLES if triad else 1)
    later += WEIGHTS["tone_doubled"] * np.maximum(doubled, 0)
    if "b13" in chord.degrees:
        both = mask_of([Degree("5"), Degree("b13")])
        later += WEIGHTS["fifth_beside_b13"] * (mask & both == both)
    return later


def _outer_mutes(table: VoicingTable) -> Column:
    """Muted strings on the bass side of the first that sounds."""
    silent = np.logical_and.accumulate([column < 0 for column in table.pairs.columns()])
    mutes: Column = silent.sum(axis=0)
    return mutes


def _left_out(degree: Degree, chord: Chord) -> str:
    """The reason that a degree's silence gives."""
    if degree == "5":
        return "fifth_left_out"
    if degree.number == _NINTH and chord.degrees[-1].number > _NINTH:
        return "ninth_left_out"
    return "tone_left_out"


def _stack_weight(pairs: Pairs, chord: Chord) -> Column:
    """What intervals between the sounding strings add."""
    later = np.zeros(len(pairs))
    root = chord.root.pitch_class
    sounding = sounding_pitches(pairs)
    if {"3", "b7"} <= set(chord.degrees):
        thirds = [
            sounds & ((pitch - root) % SEMITONES_IN_OCTAVE == _MAJOR_THIRD)
            for sounds, pitch in sounding
        ]
        later += WEIGHTS["dominant_third_doubled"] * (np.sum(thirds, axis=0) > 1)
    for (one, low), (other, high) in combinations(sounding, 2):
        both = one & other
        gap = np.abs(high - low)
        bottom = np.minimum(low, high)
        rooted = (bottom - root) % SEMITONES_IN_OCTAVE == 0
        later += WEIGHTS["unison"] * (both & (gap == 0))
        later += WEIGHTS["minor_ninth"] * (both & (gap == _MINOR_NINTH) & ~rooted)
        muddy = (gap > 0) & (gap <= _MAJOR_THIRD) & (bottom < _LOWEST_CLEAR_THIRD)
        later += WEIGHTS["low_third"] * (both & muddy)
    return later
