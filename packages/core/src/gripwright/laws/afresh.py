"""What an installed plugin answers in a process of its own."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import partial
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TypeAlias

import attrs

from gripwright.laws.exporter_laws import written
from gripwright.laws.family_laws import patterns_of
from gripwright.laws.law import LawBrokenError
from gripwright.laws.strategy_laws import recipes_of
from gripwright.laws.trial import LOADING_S
from gripwright.laws.words import in_words
from gripwright.neck.voicing import Voicing
from gripwright.plugins.discovery import find_candidates
from gripwright.plugins.host import GUARDED
from gripwright.plugins.registry import load_registry
from gripwright.plugins.watch import HangError, Pulse, watched
from gripwright.score.event import ChordEvent
from gripwright.score.sample import sample_score
from gripwright.score.score import ChordChange
from gripwright.theory import QUALITIES, Chord, Note

if TYPE_CHECKING:
    from gripwright.meter import RhythmFamily
    from gripwright.neck import Recipe, VoicingStrategy
    from gripwright.plugins import Exporter, Registry
    from gripwright.score import Score

Answers: TypeAlias = dict[str, str]
"""What a plugin answers, by what it is asked, both in words."""

_BUILTINS: Final = "builtins"
_METERS: Final = 12
_FRETS_OF_ROOTS: Final = {"C": 3, "D": 5, "E": 7, "F": 8, "G": 10, "A": 12, "B": 14}
"""Where the fifth string of the sample's guitar has each root."""

_VALUE_S: Final = 2.0
"""Seconds that one value may take over all that it is asked; where it takes longer it is left out,
since other laws say so."""

_PROCESS_S: Final = 60.0


def asked_afresh(plugin: str, hash_seed: str) -> tuple[Answers, Answers]:
    """Load an installed plugin in a process of its own, and ask it everything twice.

    Args:
        plugin: Its name.
        hash_seed: Chooses the order of sets (the Python documentation, ``PYTHONHASHSEED``).

    Raises:
        LawBrokenError: It gives no answer there.

    Example:
        >>> first, again = asked_afresh("builtins", "1")
        >>> first["strategy shell, chord Cmaj7"]
        '1 3 7 for its frame, 1 7 3 for its frame'
        >>> first == again
        True
    """
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "answers.json"
        # The path of this process, so that what is found here is found there.
        path = os.pathsep.join(entry or str(Path.cwd()) for entry in sys.path)
        code = f"from {__name__} import answer_all; answer_all({plugin!r}, {str(file)!r})"
        try:
            done = subprocess.run(  # noqa: S603 - this interpreter, and code that stands here
                [sys.executable, "-P", "-c", code],
                env={**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": hash_seed},
                stdin=subprocess.DEVNULL,
                capture_output=True,
                timeout=_PROCESS_S,
                check=False,
            )
        except subprocess.TimeoutExpired:
            raise LawBrokenError(
                fault=f"in a process of its own it gives no answer within {_PROCESS_S:g} s"
            ) from None
        if not file.exists():
            said = done.stderr.decode("utf-8", "replace").strip().splitlines() or ["nothing"]
            raise LawBrokenError(
                fault=f"in a process of its own it gives no answer: {ascii(said[-1])[1:-1]}"
            )
        first, again = json.loads(file.read_text(encoding="ascii"))
        return first, again


def answer_all(plugin: str, file: str) -> None:
    """Write what an installed plugin answers, twice, and end the process at once.

    Args:
        plugin: Its name.
        file: The path of the file to write, JSON.
    """
    found, _ = find_candidates()
    others = {_BUILTINS, *(candidate.info.name for candidate in found)} - {plugin}
    registry = load_registry(disabled=others, time_limit_s=LOADING_S)
    left_out: set[str] = set()
    both = [dict(_answers(plugin, registry, left_out)) for _ in range(2)]
    Path(file).write_text(json.dumps(both), encoding="ascii")
    # A thread that was left behind in a stranger's code cannot hold the process.
    os._exit(0)


_Ask: TypeAlias = Callable[[str, Any], Iterator[tuple[str, str]]]
"""What asks a value all there is to ask, by its name."""


def _answers(plugin: str, registry: Registry, left_out: set[str]) -> Iterator[tuple[str, str]]:
    """What a plugin answers; values that raise or take too long are put among those left out."""
    (info,) = (one for one in registry.plugins if one.name == plugin)
    given = (*info.instruments, *info.strategies, *info.rhythm_families, *info.exporters)
    yield "what there is", ", ".join(given)
    for name in info.instruments:
        yield f"instrument {name}", in_words(registry.instruments[name])
    asked: tuple[tuple[_Ask, str, object], ...] = (
        *((_recipes, name, registry.strategies[name]) for name in info.strategies),
        *((_patterns, name, registry.rhythm_families[name]) for name in info.rhythm_families),
        *((_files, name, registry.exporters[name]) for name in info.exporters),
    )
    for ask, name, value in asked:
        about = f"{ask} {name}"
        if about in left_out:
            continue
        try:
            yield from watched(partial(_all, ask, name, value), _VALUE_S)
        except (HangError, *GUARDED):
            left_out.add(about)


def _all(ask: _Ask, name: str, value: object, pulse: Pulse) -> list[tuple[str, str]]:
    pulse.begin()
    return list(ask(name, value))


def _recipes(name: str, strategy: VoicingStrategy) -> Iterator[tuple[str, str]]:
    for quality in QUALITIES.values():
        chord = Chord(Note.parse("C"), quality)
        stacks = ", ".join(map(_stack, recipes_of(strategy, chord)))
        yield f"strategy {name}, chord {chord}", stacks or "no recipe"


def _stack(recipe: Recipe) -> str:
    gaps = f" with gaps {recipe.gaps}" if recipe.gaps else ""
    voices = "" if recipe.voices == "as_written" else f" for its {recipe.voices}"
    return f"{' '.join(recipe.degrees)}{voices}{gaps}"


def _patterns(name: str, family: RhythmFamily) -> Iterator[tuple[str, str]]:
    for meter in islice(family.meters, _METERS):
        patterns = patterns_of(family, meter, 0)
        texts = ", ".join(f'{one.name} "{one}"' for one in patterns)
        yield f"rhythm family {name}, metre {meter}", texts


def _files(name: str, exporter: Exporter) -> Iterator[tuple[str, str]]:
    for about, score in (("the sample score", sample_score()), ("a longer score", _longer())):
        data = written(exporter, score)
        digest = hashlib.blake2b(data or b"", digest_size=4).hexdigest()
        said = "no file" if data is None else f"{len(data)} bytes that come to {digest}"
        yield f"exporter {name}, {about}", said


def _longer() -> Score:
    """The sample with a chord of its own on each beat, so that sets of chords have many orders."""
    sample = sample_score()
    events, changes = [], []
    for place, (root, fret) in enumerate(_FRETS_OF_ROOTS.items()):
        chord = Chord.parse(f"{root}m7")
        grip = Voicing(chord, sample.instrument, (-1, fret, fret + 2, fret, fret + 1, -1))
        onset, end = Fraction(place), Fraction(place + 1)
        bar, beat = divmod(place, 4)
        events.append(ChordEvent(onset, end, grip, 1 + bar, Fraction(1 + beat), 80))
        changes.append(ChordChange(onset, end, chord))
    return attrs.evolve(sample, events=events, changes=changes)
