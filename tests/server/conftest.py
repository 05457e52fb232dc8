"""Running the command line in a test, in this process and in its own."""

import os
import subprocess
import sys
from collections.abc import Callable

import pytest
from click.testing import CliRunner, Result

from gripwright_server.cli import ROOT

Run = Callable[..., Result]
RunProcess = Callable[..., "subprocess.CompletedProcess[str]"]


@pytest.fixture
def run() -> Run:
    """Run the command line in this process; its output is no terminal."""

    def call(*arguments: str) -> Result:
        return CliRunner().invoke(ROOT, list(arguments), prog_name="gripwright")

    return call


@pytest.fixture
def run_process() -> RunProcess:
    """Run the command line as a user's shell would."""

    def call(*arguments: str, **environment: str) -> "subprocess.CompletedProcess[str]":
        return subprocess.run(
            [sys.executable, "-m", "gripwright_server", *arguments],
            check=False,
            capture_output=True,
            encoding="utf-8",
            env={**os.environ, **environment},
            timeout=60,
        )

    return call
