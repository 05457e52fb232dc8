"""The core's types behind ``st.from_type``, and the library without Hypothesis."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chart, Chord, Pitch
from gripwright.laws import drawing
from gripwright.laws.registration import DRAWN_BY


@pytest.mark.parametrize("kind", [*DRAWN_BY, Chart[Chord]], ids=str)
def test_every_type_is_drawn_by_its_name(kind: type) -> None:
    """What comes is of that type."""

    @given(st.from_type(kind))
    def drawn(value: object) -> None:
        assert isinstance(value, kind if kind in DRAWN_BY else Chart)

    drawn()


def test_what_is_drawn_by_type_is_drawn_by_us() -> None:
    """Hypothesis' own guess would draw pitches that no instrument has."""

    @given(st.from_type(Pitch))
    def drawn(pitch: Pitch) -> None:
        assert -1 <= pitch.octave <= 9
        assert abs(pitch.note.alteration) <= 3

    drawn()


@pytest.mark.parametrize("name", drawing.__all__)
def test_every_strategy_draws(name: str) -> None:
    """Each public function returns a strategy that gives something."""

    @given(getattr(drawing, name)())
    def drawn(value: object) -> None:
        assert value is not None

    drawn()


def run(program: str) -> "subprocess.CompletedProcess[str]":
    """Run a program of its own."""
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", program], capture_output=True, text=True, check=False
    )


def test_types_are_registered_when_hypothesis_is_imported() -> None:
    """By its entry point: nobody need import our laws."""
    done = run(
        "from hypothesis import find, strategies as st\n"
        "from gripwright import Chord\n"
        "print(find(st.from_type(Chord), lambda chord: 'b9' in chord.degrees))\n"
    )
    assert (done.stdout[:1], done.stderr) == ("C", "")


@pytest.mark.parametrize(
    "module", ["gripwright.neck", "gripwright.plugins", "gripwright.score", "gripwright.tune"]
)
def test_the_library_never_imports_hypothesis(module: str) -> None:
    """Only the laws need it."""
    done = run(
        f"import sys, gripwright, {module}\n"
        "gripwright.load_registry(strict=True)\n"
        "print('hypothesis' in sys.modules)\n"
    )
    assert (done.stdout, done.stderr) == ("False\n", "")


def test_without_hypothesis_the_extra_is_named() -> None:
    """And the error is an ImportError, as one expects of an import."""
    done = run(
        "import sys\n"
        "class Absent:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name == 'hypothesis':\n"
        "            raise ModuleNotFoundError(name)\n"
        "sys.meta_path.insert(0, Absent())\n"
        "import importlib.util\n"
        "found = importlib.util.find_spec\n"
        "importlib.util.find_spec = lambda name, *rest: (\n"
        "    None if name == 'hypothesis' else found(name, *rest)\n"
        ")\n"
        "try:\n"
        "    import gripwright.laws\n"
        "except ImportError as error:\n"
        "    print(error)\n"
    )
    expected = "Hypothesis is not installed: pip install 'gripwright[laws]'\n"
    assert (done.stdout, done.stderr) == (expected, "")
