"""Errors on the command line: exit codes, and what a user reads."""

import pytest

from gripwright import Chord, Degree
from gripwright.errors import (
    ChartError,
    ChartFault,
    ChordSymbolError,
    ConditionError,
    LeadSheetError,
    NoCandidateError,
    NotationError,
    PluginError,
    RowBoundError,
    UnknownNameError,
)
from gripwright.neck.reduction import Reduction
from gripwright_server.cli.failure import as_option, report
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.voicings import NoVoicingError

UNREADABLE = NotationError(what="pitch", text="E2 H3", position=3, expected="a letter from A to G")


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (RowBoundError(bound=5, hint="name a strategy"), 1),
        (PluginError(failures=("plugin 'x' could not be loaded",)), 1),
        (PermissionError(13, "Permission denied"), 1),
        (UnknownNameError(kind="strategy", name="drp"), 2),
        (ConditionError(name="fingers", value=9, expected="1 to 4"), 2),
        (NothingFoundError(sentence="nothing is left"), 3),
        (NoCandidateError(chord="C13", bar=4, reason="no playable voicing"), 3),
        (ChartError(faults=(ChartFault(1, 1, "", "a bar"),)), 4),
        (LeadSheetError(reason="it is empty"), 4),
        (UNREADABLE, 4),
        (ChordSymbolError(text="H", position=0, expected="a letter", nearest="B"), 4),
    ],
)
def test_each_kind_of_error_has_its_exit_code(
    error: Exception, code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    """The table of exit codes is kept, and stdout stays empty."""
    assert report(error) == code
    out, err = capsys.readouterr()
    assert out == ""
    assert err != ""


def test_error_without_a_row_is_a_fault_of_ours_and_is_raised() -> None:
    """A bug is not dressed up as an answer."""
    with pytest.raises(ZeroDivisionError):
        report(ZeroDivisionError())


def test_unreadable_text_is_marked_under_the_place(capsys: pytest.CaptureFixture[str]) -> None:
    """The caret stands under the first character that does not fit."""
    report(UNREADABLE)
    assert capsys.readouterr().err.splitlines() == [
        "Error: cannot read the pitch",
        "  E2 H3",
        "     ^ expected a letter from A to G",
    ]


def test_nearest_symbol_is_offered(capsys: pytest.CaptureFixture[str]) -> None:
    """What was meant is said last, where the eye ends."""
    report(ChordSymbolError(text="Cmaj77", position=5, expected="the end", nearest="Cmaj7"))
    assert capsys.readouterr().err.splitlines()[-1] == "Did you mean Cmaj7?"


@pytest.mark.parametrize(
    ("text", "position", "column"),
    [
        ("Cx", 1, 1),
        ("C", 1, 1),
        ("和Cx", 2, 3),
        ("C\x1b[2J", 1, 1),
        ("Ce\u0301x", 3, 2),
    ],
)
def test_caret_stands_right_under_wide_combining_and_unprintable_characters(
    text: str, position: int, column: int, capsys: pytest.CaptureFixture[str]
) -> None:
    """The place is counted in columns of the terminal, and nothing moves its cursor."""
    report(NotationError(what="chord symbol", text=text, position=position, expected="the end"))
    _, shown, caret = capsys.readouterr().err.splitlines()
    assert caret.index("^") == 2 + column
    assert shown.isprintable()


def test_long_text_is_cut_around_the_place(capsys: pytest.CaptureFixture[str]) -> None:
    """A page of text does not push the place off the screen."""
    report(NotationError(what="chord symbol", text="C" * 5000, position=4000, expected="less"))
    _, shown, caret = capsys.readouterr().err.splitlines()
    assert len(shown) < 80
    assert shown[caret.index("^")] == "C"
    assert shown.startswith("  ...")
    assert shown.endswith("...")


def test_nearest_reductions_stand_below_the_reason(capsys: pytest.CaptureFixture[str]) -> None:
    """What can be played instead is said with the tone that it gives up."""
    reduction = Reduction(Chord.parse("C13b9"), (Degree("#11"),), 39)
    code = report(NoVoicingError(sentence="no voicing", reductions=(reduction,)))
    assert code == 3
    assert capsys.readouterr().err.splitlines() == [
        "No voicing",
        "The nearest chords that can be played:",
        "  C13b9 gives up the #11: 39 voicings",
    ]
    report(NoVoicingError(sentence="no voicing", condition="reach_mm"))
    assert capsys.readouterr().err.splitlines() == [
        "No voicing",
        "Loosen or leave out --reach-mm",
    ]


def test_condition_is_named_as_its_option(capsys: pytest.CaptureFixture[str]) -> None:
    """What a user typed is what a user reads."""
    report(ConditionError(name="reach_mm", value=-1.0, expected="a number"))
    assert capsys.readouterr().err == "Error: --reach-mm cannot be -1.0: expected a number\n"
    assert as_option("size of the moon") == "size of the moon"
    report(ConditionError(name="limit", value=None, expected="a number"))
    assert capsys.readouterr().err == "Error: --limit cannot be left open: expected a number\n"
