"""A store of tones: each is made once, and as long as it is needed."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from gripwright import Pitch
from gripwright.errors import ConditionError
from gripwright_rhythm.export.wav.partials import HIGHEST_PART_OF_RATE
from gripwright_rhythm.export.wav.plucked_string import (
    BASS_STRING,
    GUITAR_STRING,
    ROOT_STRING,
    PluckedString,
)
from gripwright_rhythm.export.wav.sounding import FORCES, Kind, Sounding, Tone
from gripwright_rhythm.export.wav.tick import tick

_LOWEST_HZ: Final = 8.0
_MOST_BYTES: Final = 96 * 2**20
# Above twice the lowest MIDI number that lies within the bounds, so that no seed is negative.
_SEED: Final = 16
_STRINGS: Final[dict[Kind, PluckedString]] = {
    "chord": GUITAR_STRING,
    "bass": BASS_STRING,
    "root": ROOT_STRING,
}
# Two strings of a course are never quite in tune: 0.8 cents make them beat slowly, and no ear
# hears them as out of tune.
_DOUBLE_RATIO: Final = 2.0 ** (0.8 / 1200)


class ToneStore:
    """Makes tones, and keeps those that were used last.

    Pitches are those of twelve-tone equal temperament about A4 (ISO 16 puts it at 440 Hz).

    Args:
        sounding: Everything that will be asked for, which says how long each tone has to be.
        sample_rate: Samples a second.
        a4_hz: Frequency of A4 in hertz.
        after: Samples that are needed after the end of each.
        most_bytes: How much is kept.

    Raises:
        ConditionError: A pitch that the sample rate cannot hold, or too low to be one.

    Example:
        >>> store = ToneStore([Sounding(0, 500, Tone("chord", 69, 4))], 44_100, 440.0, after=100)
        >>> len(store[Tone("chord", 69, 4)])
        600
    """

    def __init__(
        self,
        sounding: Iterable[Sounding],
        sample_rate: int,
        a4_hz: float,
        *,
        after: int = 0,
        most_bytes: int = _MOST_BYTES,
    ) -> None:
        self._rate = sample_rate
        self._a4_hz = a4_hz
        self._most_bytes = most_bytes
        self._kept: OrderedDict[Tone, NDArray[np.float32]] = OrderedDict()
        self._bytes = 0
        self._needed: dict[Tone, int] = {}
        for one in sounding:
            length = one.end - one.onset + after
            self._needed[one.tone] = max(self._needed.get(one.tone, 0), length)
        highest_hz = HIGHEST_PART_OF_RATE * sample_rate
        for tone in self._needed:
            if tone.kind in _STRINGS and not _LOWEST_HZ <= self._hz(tone) < highest_hz:
                raise ConditionError(
                    name="pitch",
                    value=str(Pitch.from_midi(tone.midi)),
                    expected=(
                        f"one from {_LOWEST_HZ:g} to {highest_hz:g} Hz, "
                        f"at {sample_rate:,} samples a second"
                    ),
                )

    def __getitem__(self, tone: Tone) -> NDArray[np.float32]:
        kept = self._kept.get(tone)
        if kept is not None:
            self._kept.move_to_end(tone)
            return kept
        made = self._made(tone)
        self._kept[tone] = made
        self._bytes += made.nbytes
        while self._bytes > self._most_bytes and len(self._kept) > 1:
            _, oldest = self._kept.popitem(last=False)
            self._bytes -= oldest.nbytes
        return made

    @property
    def kept_bytes(self) -> int:
        """How much it keeps now."""
        return self._bytes

    def _hz(self, tone: Tone) -> float:
        hz = Pitch.from_midi(tone.midi).frequency(self._a4_hz)
        return hz * _DOUBLE_RATIO if tone.double else hz

    def _made(self, tone: Tone) -> NDArray[np.float32]:
        if tone.kind not in _STRINGS:
            return tick(self._rate, accent=tone.kind == "accent")
        return _STRINGS[tone.kind].tone(
            self._hz(tone),
            (tone.force + 0.5) / FORCES,
            self._needed[tone],
            self._rate,
            # The two strings of a course differ in what is uneven about them.
            seed=_SEED + 2 * tone.midi + tone.double,
        )
