"""Plucked strings: what one sounds like from its pluck on."""

from __future__ import annotations

import math
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from gripwright_rhythm.export.wav.body import Body, Resonance
from gripwright_rhythm.export.wav.noise import white_noise
from gripwright_rhythm.export.wav.partials import HIGHEST_PART_OF_RATE, Partials

_E2_HZ: Final = 82.4069
_NEPERS_IN_60_DB: Final = math.log(1000.0)
_NEPERS_TO_SILENCE: Final = math.log(10.0) * 84 / 20
_SHORTEST_S, _LONGEST_S = 0.3, 20.0

_MOST_PARTIALS: Final = 100
_WEAKEST: Final = 1e-6
_UNEVENNESS: Final = 0.12

# Two ways to swing: across the body, which takes the energy faster, and along it.
_SHARES: Final = np.array([0.6, 0.4])
_SPEEDS: Final = np.array([1.5, 0.55])

_STRENGTH_S: Final = 0.15
_SCRAPE_S: Final = 0.02
_SCRAPE_RISE_S: Final = 0.0004
_SCRAPE_DECAY_S: Final = 0.0025
_SCRAPE_SMOOTHED_S: Final = 0.00015


@attrs.frozen
class PluckedString:
    """A kind of plucked string: the sum of the partials that a pluck leaves it with.

    - *Pitch*: partial n of a stiff string lies at ``n * f * sqrt((1 + B * n**2) / (1 + B))``,
      the first exactly in tune (Fletcher and Rossing, *The Physics of Musical Instruments*, on
      stiff strings).
    - *Strength*: a pluck at a part p of the length leaves partial n of the velocity with
      ``sin(n * pi * p) / n`` (the same book, on plucked strings). A finger or plectrum is no
      point and takes the high partials away, a soft pluck more than a hard one.
    - *Decay*: a partial falls by ``d + c * f**2`` nepers a second: what the ends of the string
      lose, and what string and air lose, which grows with frequency; and a part of each falls
      more slowly than the rest (common practice in the synthesis of strings).

    The figures of the kinds below are set by ear and by spectrogram, from memory of guitars that
    were measured.

    Args:
        pluck: Where it is plucked, as a part of its length from the bridge, above 0 to 0.5.
        soft_hz: Frequency at which the softest pluck has lost a neper.
        hard_hz: The same of the hardest.
        decay_s: Seconds in which the first partial of E2 falls by 60 dB.
        decay_octaves: Octaves up over which that time halves.
        loss: What grows with frequency, in nepers a second at 1000 Hz.
        stiffness: B at E2; it grows with the square root of the frequency.
        scrape: How strong the noise of the pluck is beside the tone.
        level: Root mean square of the first 150 ms.
        body: What carries it.

    Example:
        >>> tone = GUITAR_STRING.tone(220.0, 0.6, 44_100, 44_100, seed=57)
        >>> len(tone), float(tone[0])
        (44100, 0.0)
    """

    pluck: float
    soft_hz: float
    hard_hz: float
    decay_s: float
    decay_octaves: float
    loss: float
    stiffness: float
    scrape: float
    level: float
    body: Body

    def tone(
        self, hz: float, force: float, samples: int, sample_rate: int, *, seed: int
    ) -> NDArray[np.float32]:
        """A tone from its pluck on, undamped.

        Args:
            hz: Frequency of the first partial in hertz, below `HIGHEST_PART_OF_RATE` of the rate.
            force: How hard it is plucked, 0 to 1: it sets the colour, never the level.
            samples: How many samples at most: it ends where it is below what 16 bits hold.
            sample_rate: Samples a second.
            seed: What its noise and the unevenness of its partials are drawn from, 0 or more.

        Returns:
            Samples from the pluck on; the first is 0.
        """
        silent = _NEPERS_TO_SILENCE / (self._end_loss(hz) * float(_SPEEDS.min()))
        samples = min(samples, math.ceil(silent * sample_rate))
        tone = self._partials(hz, force, sample_rate, seed).sounded(samples, sample_rate)
        scrape = self._scrape(force, sample_rate, seed)[:samples]
        tone[: len(scrape)] += scrape
        return tone.astype(np.float32)

    def _end_loss(self, hz: float) -> float:
        octaves = math.log2(hz / _E2_HZ)
        seconds = self.decay_s * 2.0 ** (-octaves / self.decay_octaves)
        return float(_NEPERS_IN_60_DB / min(max(seconds, _SHORTEST_S), _LONGEST_S))

    def _partials(self, hz: float, force: float, sample_rate: int, seed: int) -> Partials:
        numbers = np.arange(1, _MOST_PARTIALS + 1)
        stiffness = self.stiffness * math.sqrt(hz / _E2_HZ)
        places = numbers * hz * np.sqrt((1.0 + stiffness * numbers**2) / (1.0 + stiffness))
        touch_hz = self.soft_hz * (self.hard_hz / self.soft_hz) ** force
        amplitudes = (
            np.sin(numbers * np.pi * self.pluck)
            / numbers
            * np.exp(-places / touch_hz)
            * self.body.carried(places)
            * (1.0 + _UNEVENNESS * white_noise(2 * seed, _MOST_PARTIALS))
        )
        decays = self._end_loss(hz) + self.loss * (places / 1000.0) ** 2
        # What cannot be heard costs as much as what can; the first partial always stays.
        heard = (places < HIGHEST_PART_OF_RATE * sample_rate) & (
            np.abs(amplitudes) >= _WEAKEST * np.abs(amplitudes[0])
        )
        places, decays, amplitudes = places[heard], decays[heard], amplitudes[heard]
        amplitudes *= self.level / Partials(places, decays, amplitudes).strength(_STRENGTH_S)
        return Partials(
            np.repeat(places, len(_SPEEDS)),
            np.outer(decays, _SPEEDS).ravel(),
            np.outer(amplitudes, _SHARES).ravel(),
        )

    def _scrape(self, force: float, sample_rate: int, seed: int) -> NDArray[np.float64]:
        width = max(1, round(_SCRAPE_SMOOTHED_S * sample_rate))
        samples = round(_SCRAPE_S * sample_rate)
        noise = white_noise(2 * seed + 1, samples + width - 1)
        smoothed = np.convolve(noise, np.full(width, width**-0.5), "valid")
        time = np.arange(samples) / sample_rate
        envelope = -np.expm1(-time / _SCRAPE_RISE_S) * np.exp(-time / _SCRAPE_DECAY_S)
        scrape: NDArray[np.float64] = self.scrape * self.level * force * envelope * smoothed
        return scrape


_GUITAR_BODY: Final = Body(
    [Resonance(102.0, 6.0, 0.6), Resonance(205.0, 5.0, 0.6), Resonance(900.0, 1.0, 1.2)],
    low_hz=90.0,
    high_hz=5000.0,
)
_BASS_BODY: Final = Body([Resonance(65.0, 4.0, 0.6)], low_hz=35.0, high_hz=2500.0)

GUITAR_STRING: Final = PluckedString(
    pluck=0.19,
    soft_hz=900.0,
    hard_hz=6000.0,
    decay_s=15.0,
    decay_octaves=3.5,
    loss=1.3,
    stiffness=3e-5,
    scrape=0.5,
    level=0.085,
    body=_GUITAR_BODY,
)
"""A string of a guitar under the plectrum: what the chords are played on."""

BASS_STRING: Final = PluckedString(
    pluck=0.3,
    soft_hz=350.0,
    hard_hz=1100.0,
    decay_s=9.0,
    decay_octaves=3.0,
    loss=3.0,
    stiffness=2e-5,
    scrape=0.15,
    level=0.1,
    body=_BASS_BODY,
)
"""A thick string under the finger: the bass track."""

ROOT_STRING: Final = PluckedString(
    pluck=0.5,
    soft_hz=450.0,
    hard_hz=900.0,
    decay_s=15.0,
    decay_octaves=6.0,
    loss=0.5,
    stiffness=0.0,
    scrape=0.05,
    level=0.075,
    body=Body([], low_hz=30.0, high_hz=2500.0),
)
"""A hollow tone that lasts, plucked in the middle (odd partials alone): the root track."""
