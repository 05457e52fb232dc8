"""The command gripwright: what stands around the operations."""

import pytest

import gripwright
from gripwright_server.operations import OPERATIONS
from tests.server.conftest import Run, RunProcess


def test_help_lists_every_operation(run: Run) -> None:
    """Whoever types --help sees every command with its summary."""
    result = run("--help")
    assert result.exit_code == 0
    for operation in OPERATIONS:
        assert operation.name in result.stdout
        assert operation.summary in " ".join(result.stdout.split())


def test_version_is_that_of_the_library(run: Run) -> None:
    """The distributions go in lockstep."""
    assert run("--version").stdout == f"gripwright {gripwright.__version__}\n"


def test_unknown_command_names_the_nearest(run: Run) -> None:
    """A misspelt command ends with exit code 2 and the right word."""
    result = run("voicing", "C")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "did you mean 'voicings'?" in result.stderr


def test_unknown_option_names_the_nearest(run: Run) -> None:
    """A misspelt option too."""
    result = run("voicings", "C", "--instrumnt", "guitar")
    assert result.exit_code == 2
    assert "--instrument" in result.stderr


@pytest.mark.parametrize("arguments", [(), ("voicings",), ("spell",)])
def test_nothing_given_shows_how_to_begin(run: Run, arguments: tuple[str, ...]) -> None:
    """A bare command shows its help and counts as a usage error."""
    result = run(*arguments)
    assert result.exit_code == 2
    assert "Usage: gripwright" in result.stderr


def test_interrupted_command_ends_with_130(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends a search without a traceback, as a shell expects."""

    def interrupted(**_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(gripwright, "load_registry", interrupted)
    result = run("voicings", "C")
    assert result.exit_code == 130
    assert result.stdout == ""


def test_plugin_that_is_switched_off_gives_nothing(run: Run) -> None:
    """--disable leaves a plugin out, and its instruments with it."""
    result = run("--disable", "tunings", "voicings", "C")
    assert result.exit_code == 2
    assert "gripwright-tunings" in result.stderr


def test_unknown_plugin_to_switch_off_names_the_nearest(run: Run) -> None:
    """A misspelt plugin is told."""
    result = run("--disable", "tuning", "voicings", "C")
    assert result.exit_code == 2
    assert "tunings" in result.stderr


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_shell_completion_is_offered(run_process: RunProcess, shell: str) -> None:
    """Each shell that the README names gets its script."""
    result = run_process(_GRIPWRIGHT_COMPLETE=f"{shell}_source")
    assert "gripwright" in result.stdout
    assert result.returncode == 0


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("gripwright voi", "voicings"),
        ("gripwright voicings C --stroke st", "strum"),
        ("gripwright voicings C --no-in", "--no-inner-mutes"),
        ("gripwright voicings C --instrument bariton", "baritone-b"),
        ("gripwright voicings C --strategy an", "any"),
    ],
)
def test_completion_knows_commands_options_choices_and_names(
    run_process: RunProcess, words: str, expected: str
) -> None:
    """What can be typed next is completed, names of the plugins too."""
    result = run_process(
        _GRIPWRIGHT_COMPLETE="bash_complete",
        COMP_WORDS=words,
        COMP_CWORD=str(len(words.split()) - 1),
    )
    assert f"plain,{expected}" in result.stdout.splitlines()
