"""The WAV exporter: its settings, its level and its file."""

from __future__ import annotations

import io
import math
import wave
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, BinaryIO, ClassVar, Final, get_args

import attrs

from gripwright.errors import ConditionError
from gripwright_rhythm.export.midi import WIDEST_STRUM_MS
from gripwright_rhythm.export.midi_notes import StrumAnchor

if TYPE_CHECKING:
    # Naming the type loads NumPy, and a list of formats must not.
    from gripwright import Score

PEAK_DBFS: Final = -12.0
"""The loudest that a file becomes, in decibels of full scale."""

_FULL_SCALE: Final = 2**15
_PEAK: Final = math.floor(_FULL_SCALE * 10 ** (PEAK_DBFS / 20))
_BYTES_A_SAMPLE: Final = 2
# A size in a RIFF file is a number of 32 bits, and counts what stands between it and the samples.
_MOST_BYTES: Final = 2**32 - 1 - 36
_SLOWEST_RATE, _FASTEST_RATE = 22_050, 192_000
_LOWEST_A4_HZ, _HIGHEST_A4_HZ = 390.0, 480.0
_MOST_TAIL_S: Final = 60.0


def _between(low: float, high: float, unit: str) -> Callable[[Any, Any, Any], None]:
    def check(_instance: object, attribute: attrs.Attribute[float], value: float) -> None:
        if not low <= value <= high:
            raise ConditionError(
                name=attribute.name, value=value, expected=f"{low:,g} to {high:,g} {unit}"
            )

    return check


@attrs.frozen
class WavExporter:
    """Writes a score as sound: a WAV file of 16-bit PCM samples, in mono.

    Each chord starts on its sample and is damped at its end within 8 ms. The level is the same
    for every score, so that no drill is louder than the one before; where so much sounds at once
    that it would pass -12 dBFS, the whole score is turned down until it does not.

    Equal scores give equal bytes.

    Args:
        strum_ms: From the first string of a strum to the last, 0 to 500 ms, at most half of the
            chord; down from the bass side, up from the treble side; plucked chords are not spread.
        strum_anchor: Which string falls on the onset: the first, so that nothing is early, or
            the last.
        sample_rate: Samples a second, 22,050 to 192,000.
        a4_hz: Frequency of A4 in hertz, 390 to 480; 440 by ISO 16.
        tail_s: Seconds of silence after the end, 0 to 60.

    Raises:
        ConditionError: A setting outside its range.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> sound = WavExporter().export(sample_score())
        >>> sound[:4], sound[8:12], len(sound) // (2 * 44_100)
        (b'RIFF', b'WAVE', 13)
    """

    name: ClassVar[str] = "wav"
    summary: ClassVar[str] = "sound: plucked strings and clicks, 16-bit PCM"
    suffixes: ClassVar[tuple[str, ...]] = (".wav",)
    media_type: ClassVar[str] = "audio/vnd.wave"
    """As registered by RFC 2361."""

    strum_ms: float = attrs.field(default=0.0, validator=_between(0, WIDEST_STRUM_MS, "ms"))
    strum_anchor: StrumAnchor = attrs.field(default="first")
    sample_rate: int = attrs.field(
        default=44_100, validator=_between(_SLOWEST_RATE, _FASTEST_RATE, "samples a second")
    )
    a4_hz: float = attrs.field(
        default=440.0, validator=_between(_LOWEST_A4_HZ, _HIGHEST_A4_HZ, "Hz")
    )
    tail_s: float = attrs.field(default=1.0, validator=_between(0.0, _MOST_TAIL_S, "s"))

    @strum_anchor.validator
    def _check_anchor(self, _attribute: object, value: str) -> None:
        if value not in get_args(StrumAnchor):
            raise ConditionError(name="strum_anchor", value=value, expected="first or last")

    @sample_rate.validator
    def _check_rate(self, _attribute: object, value: int) -> None:
        if isinstance(value, bool) or not isinstance(value, int):
            raise ConditionError(name="sample_rate", value=value, expected="a whole number")

    def export(self, score: Score, /) -> bytes:
        """Write a score as one file.

        Args:
            score: The score.

        Returns:
            The file.

        Raises:
            ConditionError: It is longer than a WAV file can be, or has a pitch that the sample
                rate cannot hold; said before anything is rendered.
        """
        file = io.BytesIO()
        self.write(score, file)
        return file.getvalue()

    def write(self, score: Score, file: BinaryIO) -> None:
        """Write a score into a file as it is rendered: memory does not grow with its length.

        Args:
            score: The score.
            file: Where to; it need not be one that can be read or sought in.

        Raises:
            ConditionError: As `export`; nothing has been written then.
        """
        samples = self._samples(score)
        # Late on purpose: these load NumPy, and a list of formats must not.
        from gripwright_rhythm.export.wav.mixing import damping, mixed  # noqa: PLC0415
        from gripwright_rhythm.export.wav.sounding import Strum, soundings  # noqa: PLC0415
        from gripwright_rhythm.export.wav.tone_store import ToneStore  # noqa: PLC0415

        strum = Strum(round(self.strum_ms * self.sample_rate / 1000), self.strum_anchor)
        sounding = soundings(score, self.sample_rate, strum)
        damp = damping(self.sample_rate)
        store = ToneStore(sounding, self.sample_rate, self.a4_hz, after=len(damp))
        # Twice: how loud the whole becomes is known only at its end, and mixing is cheap.
        loudest = max(
            (float(abs(block).max()) for block in mixed(sounding, samples, store, damp)),
            default=0.0,
        )
        scale = _PEAK / max(loudest, 1.0)
        with wave.open(file, "wb") as writer:
            writer.setnchannels(1)
            writer.setsampwidth(_BYTES_A_SAMPLE)
            writer.setframerate(self.sample_rate)
            writer.setnframes(samples)
            for block in mixed(sounding, samples, store, damp):
                writer.writeframesraw((block * scale).round().astype("<i2").tobytes())

    def _samples(self, score: Score) -> int:
        samples = math.ceil(score.seconds * self.sample_rate) + round(
            self.tail_s * self.sample_rate
        )
        if samples * _BYTES_A_SAMPLE > _MOST_BYTES:
            longest = _MOST_BYTES // _BYTES_A_SAMPLE / self.sample_rate / 3600
            raise ConditionError(
                name="length",
                value=f"{float(score.seconds) / 3600:,.2f} hours",
                expected=(
                    f"at most {longest:.2f} hours of sound at {self.sample_rate:,} samples a "
                    "second: a WAV file holds no more than 4 GiB"
                ),
            )
        return samples
