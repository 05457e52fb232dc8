"""What a command imports: start-up pays for what it needs and for nothing else."""

import subprocess
import sys

import pytest

_REPORT = """
import sys
from gripwright_server.cli import ROOT
try:
    ROOT({arguments!r}, prog_name="gripwright")
except SystemExit as end:
    assert not end.code, end.code
heavy = {{name.partition(".")[0] for name in sys.modules}} & {heavy!r}
print("loaded:", *sorted(heavy), file=sys.stderr)
"""
_HEAVY = {
    "numpy",
    "msgspec",
    "jsonschema_rs",
    "hypothesis",
    "flask",
    "waitress",
    "sqlalchemy",
    "mido",
}


def _loaded(*arguments: str) -> str:
    code = _REPORT.format(arguments=list(arguments), heavy=_HEAVY)
    result = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, timeout=60
    )
    return result.stderr.splitlines()[-1]


@pytest.mark.parametrize(
    "arguments",
    [
        ("--help",),
        ("--version",),
        ("explain", "--help"),
        ("voicings", "--help"),
        ("lead", "--help"),
        ("chart", "--help"),
        ("serve", "--help"),
        ("chart", "| Dm7 G7 |", "--format", "table"),
        ("spell", "Cmaj9", "F#m7b5"),
        ("spell", "C2", "--format", "table"),
        ("name", "C E G B"),
        ("name", "C E G B", "--format", "table"),
    ],
)
def test_command_loads_nothing_heavy(arguments: tuple[str, ...]) -> None:
    """Help and spelling load no NumPy, nor any library of another surface."""
    assert _loaded(*arguments) == "loaded:"


def test_search_loads_numpy_alone() -> None:
    """The check above can fail: a search does load NumPy."""
    assert "numpy" in _loaded("voicings", "C", "--limit", "1")
