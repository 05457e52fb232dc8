"""What an ear outside makes of a WAV file: samples by SciPy's reader, onsets by spectral flux.

Nothing here knows how the sound was made.
"""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy import signal  # type: ignore[import-untyped]
from scipy.io import wavfile  # type: ignore[import-untyped]

Samples = NDArray[np.float64]

_WINDOW_S, _HOP_S = 0.010, 0.001
_BEFORE_S = 0.1
_CLOSEST_S = 0.040
_FRAMES_BACK = 5
_PART_OF_LOUDEST = 0.25


def heard(file: bytes | Path) -> tuple[int, Samples]:
    """Return the sample rate and the samples, where 1 is full scale; channels are averaged."""
    rate, samples = wavfile.read(io.BytesIO(file) if isinstance(file, bytes) else file)
    assert samples.dtype == np.int16
    return rate, samples.reshape(len(samples), -1).mean(axis=1) / 2**15


def level_db(samples: Samples) -> float:
    """Return the root mean square in decibels of full scale."""
    return float(10.0 * np.log10(np.mean(samples**2) + 1e-20))


def peak_db(samples: Samples) -> float:
    """Return the greatest sample in decibels of full scale."""
    return float(20.0 * np.log10(np.abs(samples).max() + 1e-10))


def onsets(rate: int, samples: Samples) -> NDArray[np.float64]:
    """Return the seconds at which something starts: peaks of the spectral flux.

    Flux is the sum over frequencies of what the logarithmic spectrum gains in 5 ms (Dixon,
    "Onset detection revisited", DAFx 2006, with the logarithm that is usual since).
    """
    hop, window = round(_HOP_S * rate), round(_WINDOW_S * rate)
    padded = np.concatenate([np.zeros(round(_BEFORE_S * rate)), samples])
    _, times, spectrum = signal.stft(
        padded, rate, window="hann", nperseg=window, noverlap=window - hop, nfft=512
    )
    loudness = np.log1p(1e4 * np.abs(spectrum))
    gains = np.maximum(loudness[:, _FRAMES_BACK:] - loudness[:, :-_FRAMES_BACK], 0.0)
    flux = gains.sum(axis=0)
    peaks, _ = signal.find_peaks(
        flux,
        height=_PART_OF_LOUDEST * np.percentile(flux, 99.8),
        distance=round(_CLOSEST_S / _HOP_S),
    )
    found: NDArray[np.float64] = times[_FRAMES_BACK:][peaks] - _BEFORE_S
    return found


def without_median(found: NDArray[np.float64], truth: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return what was found, less the median of how late it is."""
    nearest = found[np.abs(found[:, None] - truth[None, :]).argmin(axis=0)]
    less: NDArray[np.float64] = found - np.median(nearest - truth)
    return less


def frequency(rate: int, samples: Samples, near_hz: float) -> float:
    """Return the frequency of the partial near a given one, by the turn of its phase.

    The phase is taken in two Hann windows of 250 ms, 100 ms apart: good to a few thousandths of
    a cent, and unambiguous within 5 Hz.
    """
    length, apart = round(0.25 * rate), round(0.1 * rate)
    time = np.arange(length) / rate
    kernel = np.hanning(length) * np.exp(-2j * np.pi * near_hz * time)
    skipped = round(0.03 * rate)
    first, second = (
        np.vdot(kernel.conj(), samples[start : start + length])
        for start in (skipped, skipped + apart)
    )
    expected = 2.0 * np.pi * near_hz * apart / rate
    turned = np.angle(second / first * np.exp(-1j * expected))
    return float(near_hz + turned * rate / (2.0 * np.pi * apart))


def strength_near(rate: int, samples: Samples, hz: float, width_hz: float) -> float:
    """Return the energy in a band, of a Hann-windowed stretch of sound."""
    spectrum = np.fft.rfft(samples * np.hanning(len(samples)), 8 * len(samples))
    bins = np.fft.rfftfreq(8 * len(samples), 1.0 / rate)
    return float(np.sum(np.abs(spectrum[np.abs(bins - hz) <= width_hz / 2.0]) ** 2))


def centroid(rate: int, samples: Samples) -> float:
    """Return the centre of gravity of the spectrum in hertz."""
    power = np.abs(np.fft.rfft(samples * np.hanning(len(samples)))) ** 2
    return float(np.sum(power * np.fft.rfftfreq(len(samples), 1.0 / rate)) / np.sum(power))
