"""The WAV file: its form, its level, its limits, its bytes."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
import tracemalloc
from fractions import Fraction
from typing import Any

import attrs
import numpy as np
import pytest

from gripwright import ConditionError
from gripwright.plugins.kinds import Exporter
from gripwright.score.sample import sample_score
from gripwright_rhythm.export.wav import WavExporter
from tests.rhythm.export.wav.heard import heard, level_db, peak_db
from tests.rhythm.export.wav.played import TWELVE, drill, score_of, struck, sung

_HASHED = """
import hashlib
from gripwright_rhythm.export.wav import WavExporter
from tests.rhythm.export.wav.played import drill
score = drill("1 2.5'", bass=True, root="held", tempo_bpm=200)
print(hashlib.sha256(WavExporter(strum_ms=20).export(score)).hexdigest())
"""


class Drain(io.RawIOBase):
    """A file that can neither be read nor sought in, and keeps nothing but a count."""

    def __init__(self) -> None:
        self.taken = 0

    def writable(self) -> bool:
        """Return that it can be written to."""
        return True

    def write(self, data: Any, /) -> int:  # noqa: ANN401 - as its base
        """Take bytes and forget them."""
        self.taken += len(data)
        return len(data)


class Pipe(io.BytesIO):
    """A file that refuses to be sought in."""

    def seekable(self) -> bool:
        """Return that it cannot."""
        return False

    def seek(self, *_args: int) -> int:
        """Refuse."""
        raise OSError("a pipe")

    def tell(self) -> int:
        """Refuse."""
        raise OSError("a pipe")


def test_the_file_is_16_bit_mono_and_lasts_a_second_longer_than_the_score() -> None:
    """SciPy's reader agrees on form and length."""
    score = sample_score()
    rate, samples = heard(WavExporter().export(score))
    assert rate == 44_100
    assert samples.shape == ((score.seconds + 1) * 44_100,)


@pytest.mark.parametrize("rate", [22_050, 48_000])
def test_another_rate_and_tail_are_heeded(rate: int) -> None:
    """The length follows both settings."""
    found, samples = heard(WavExporter(sample_rate=rate, tail_s=0.5).export(sample_score()))
    assert (found, len(samples)) == (rate, round(12.5 * rate))


def test_nothing_sounds_in_the_tail_once_the_last_chord_is_damped() -> None:
    """The last chord is damped within 10 ms of the end, and the rest is silence."""
    _, samples = heard(WavExporter().export(score_of([struck(0, 4)])))
    assert np.any(samples[4 * 44_100 - 441 : 4 * 44_100])
    assert not np.any(samples[4 * 44_100 + 441 :])


def test_a_score_without_events_is_silence() -> None:
    """Nothing is made up, and nothing divides by a peak of 0."""
    _, samples = heard(WavExporter().export(score_of()))
    assert len(samples) == 5 * 44_100
    assert not np.any(samples)


def test_the_level_does_not_depend_on_what_else_is_in_the_score() -> None:
    """The same bar is as loud in a quiet drill as before a loud one."""
    soft = struck(0, 1, dynamic=40)
    alone = heard(WavExporter().export(score_of([soft])))[1]
    before = heard(WavExporter().export(score_of([soft, struck(2, 3, dynamic=110)])))[1]
    assert np.array_equal(alone[:44_100], before[:44_100])
    assert peak_db(alone) < -24.0


def test_a_usual_drill_keeps_its_level() -> None:
    """Chords, bass, root and clicks at usual dynamics are loud enough, and need no turning down."""
    score = drill("1 2 3 4", bass=True, root="held", tempo_bpm=160)
    _, samples = heard(WavExporter().export(score))
    first = score.clicks[0]
    _, click = heard(
        WavExporter().export(score_of(clicks=[attrs.evolve(first, onset=Fraction(0), bar=1)]))
    )
    length = round(0.05 * 44_100)
    assert np.array_equal(samples[:length], click[:length])
    assert -35.0 < level_db(samples) < -20.0


def test_however_dense_the_peak_is_at_most_12_db_below_full_scale() -> None:
    """Forty chords of twelve strings at once are turned down as a whole."""
    events = [
        struck(0, 4, (3, 3, 2, 0, 1, 0), instrument=TWELVE, dynamic=127) for _ in range(40)
    ] + [struck(3, 4, dynamic=127)]
    note = [sung(0, 4, "C2", 127)]
    _, samples = heard(WavExporter().export(score_of(events, bass=note, root=note)))
    assert -12.01 < peak_db(samples) <= -12.0
    assert np.abs(samples).max() * 2**15 <= 2**15 * 10 ** (-12 / 20)


def test_two_processes_write_the_same_bytes() -> None:
    """Neither the seed of hashes nor the number of threads of the matrix product matters."""
    digests = set()
    for seed, threads in (("1", "1"), ("2", "4")):
        environment = os.environ | {
            "PYTHONHASHSEED": seed,
            "OPENBLAS_NUM_THREADS": threads,
            "OMP_NUM_THREADS": threads,
        }
        done = subprocess.run(
            [sys.executable, "-c", _HASHED],
            check=True,
            capture_output=True,
            text=True,
            env=environment,
        )
        digests.add(done.stdout.strip())
    score = drill("1 2.5'", bass=True, root="held", tempo_bpm=200)
    digests.add(hashlib.sha256(WavExporter(strum_ms=20).export(score)).hexdigest())
    assert len(digests) == 1


def test_a_stream_that_cannot_be_sought_in_gets_the_same_file() -> None:
    """The header is right from the start."""
    pipe = Pipe()
    WavExporter().write(sample_score(), pipe)
    assert pipe.getvalue() == WavExporter().export(sample_score())


def test_memory_does_not_grow_with_the_length() -> None:
    """A score eight times as long is written with about the same memory."""
    peaks = []
    for minutes in (1, 8):
        events = [struck(4 * bar, 4 * bar + 1) for bar in range(minutes * 15)]
        score = score_of(events, quarters=60 * minutes)
        drain = Drain()
        tracemalloc.start()
        WavExporter().write(score, drain)  # type: ignore[arg-type]
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
        assert drain.taken == 44 + 2 * 44_100 * (60 * minutes + 1)
    assert peaks[1] < peaks[0] + 2**20 < 16 * 2**20


def test_a_score_past_4_gib_is_refused_before_anything_is_rendered() -> None:
    """The message names the limit and how much fits; nothing is written."""
    score = score_of([struck(0, 4)], quarters=48_696)
    file = io.BytesIO()
    with pytest.raises(ConditionError, match=r"13\.53 hours.*at most 13\.53.*4 GiB"):
        WavExporter().write(score, file)
    assert file.getvalue() == b""
    slower = WavExporter(sample_rate=96_000)
    with pytest.raises(ConditionError, match="at most 6"):
        slower.export(score_of(quarters=7 * 3600))


def test_a_pitch_beyond_the_sample_rate_is_refused_by_name() -> None:
    """Neither silence nor a folded frequency stands in for it."""
    with pytest.raises(ConditionError, match=r"F#9.*8 to 9,?922"):
        WavExporter(sample_rate=22_050).export(score_of(bass=[sung(0, 1, "F#9")]))
    with pytest.raises(ConditionError, match="C-2"):
        WavExporter().export(score_of(bass=[sung(0, 1, "C-2")]))


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("strum_ms", -1),
        ("strum_ms", 501),
        ("strum_ms", float("nan")),
        ("strum_anchor", "middle"),
        ("sample_rate", 8_000),
        ("sample_rate", 400_000),
        ("sample_rate", 44_100.5),
        ("a4_hz", 220),
        ("tail_s", -1),
        ("tail_s", 61),
    ],
)
def test_a_setting_outside_its_range_is_refused_by_name(name: str, value: object) -> None:
    """Each error carries the name of the setting."""
    with pytest.raises(ConditionError) as caught:
        WavExporter(**{name: value})  # type: ignore[arg-type]
    assert caught.value.name == name


def test_the_exporter_loads_no_numpy_until_it_exports() -> None:
    """A list of formats stays quick."""
    code = (
        "import sys; from gripwright_rhythm.export.wav import WavExporter; "
        "WavExporter(); sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_it_is_an_exporter_as_plugins_give_them() -> None:
    """By the kind that the registry checks."""
    assert isinstance(WavExporter(), Exporter)
