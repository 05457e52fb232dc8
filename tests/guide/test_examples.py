"""What the README and the guides show is so: the code runs, commands parse, answers come."""

import doctest
import json
import re
import shlex
import sys
from pathlib import Path
from types import ModuleType

import click
import pytest
from click.testing import CliRunner

from gripwright_server.cli import ROOT
from gripwright_server.cli.command import OperationCommand
from gripwright_server.http import create_app
from tests.guide.fences import DOCUMENTS, Command, Fence, all_fences, commands

WIDTH = "100"
"""The width of the terminal that the documents show."""

SURFACE = {"all", "force", "format", "outputs", "store"}
"""Options that belong to the command line alone."""

PYTHON = all_fences("python")
OURS = [command for command in commands() if command.line.startswith("gripwright ")]
CURL = [command for command in commands() if command.line.startswith("curl ")]
STATEFUL = ("gripwright serve", "gripwright vocabulary")
"""Commands whose answer depends on more than their arguments; their own tests try them."""

SHOWN = [command for command in OURS if command.output and not command.line.startswith(STATEFUL)]


def by_place(shown: Fence | Command) -> str:
    """What a test of an example is called."""
    return shown.place if isinstance(shown, Fence) else f"{shown.place}-{shown.line[:40]}"


def arguments_of(line: str) -> list[str]:
    """The arguments of our command in a line, without what the shell does after it."""
    return shlex.split(re.split(r"\s+#\s| \| jq ", line)[0])[1:]


def test_every_document_is_there_and_shows_something() -> None:
    """An example that is not found would not be tried."""
    assert all(document.is_file() for document in DOCUMENTS)
    assert {fence.document for fence in PYTHON} >= {
        path for path in DOCUMENTS if path.parent.name != "server"
    }
    assert len(SHOWN) > 5
    assert CURL


@pytest.mark.parametrize("fence", PYTHON, ids=by_place)
def test_python_runs(fence: Fence, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each fence is whole: a reader can copy one alone."""
    monkeypatch.chdir(tmp_path)
    module = ModuleType("example")
    monkeypatch.setitem(sys.modules, "example", module)
    exec(compile(fence.text, fence.place, "exec"), vars(module))  # noqa: S102 - our own document


@pytest.mark.parametrize("command", OURS, ids=by_place)
def test_command_parses(command: Command) -> None:
    """Commands, options and values are those that there are."""
    found: click.Command = ROOT
    context = None
    arguments = arguments_of(command.line)
    while isinstance(found, click.Group):
        context = click.Context(found, info_name=found.name, parent=context)
        _, inner, arguments = found.resolve_command(context, arguments)
        assert inner is not None
        found = inner
    parsed = found.make_context(str(found.name), list(arguments), parent=context)
    if isinstance(found, OperationCommand):
        values = {name: value for name, value in parsed.params.items() if name not in SURFACE}
        found.operation.request(**values)


@pytest.mark.parametrize("command", SHOWN, ids=by_place)
def test_answer_is_as_shown(command: Command, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a terminal; ``...`` on a line of its own stands for what is left out."""
    monkeypatch.setenv("COLUMNS", WIDTH)
    arguments = arguments_of(command.line)
    if "--format" not in arguments and "-o" not in arguments and "--version" not in arguments:
        arguments += ["--format", "table"]
    result = CliRunner().invoke(ROOT, arguments, prog_name="gripwright")
    answer = re.sub(r" +$", "", result.output, flags=re.MULTILINE).rstrip("\n")
    shown = re.sub(r" +$", "", command.output, flags=re.MULTILINE)
    checker = doctest.OutputChecker()
    assert checker.check_output(f"{shown}\n", f"{answer}\n", doctest.ELLIPSIS), (
        f"{command.place} shows another answer than:\n{answer}"
    )


@pytest.mark.parametrize("command", CURL, ids=by_place)
def test_request_is_answered(command: Command) -> None:
    """Paths, queries and bodies are taken; what is shown may be an error on purpose."""
    words = shlex.split(re.split(r" \| (?:jq|tail) ", command.line)[0])
    address = next(word for word in words if "localhost:8000" in word)
    path = address.partition("localhost:8000")[2]
    client = create_app().test_client()
    if "--json" in words:
        body = json.loads(words[words.index("--json") + 1])
        response = client.post(path, json=body)
    elif "--data-binary" in words:
        kind = words[words.index("-H") + 1].removeprefix("Content-Type: ")
        sheet = (Path(__file__).parents[1] / "data" / "leadsheet-one-bar.musicxml").read_bytes()
        response = client.post(path, data=sheet, content_type=kind)
    else:
        response = client.get(path)
    expected = 422 if "errors" in command.line else 200
    assert response.status_code == expected, response.get_data(as_text=True)
