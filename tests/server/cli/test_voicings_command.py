"""The search on the command line: good answers and helpful refusals."""

import json

import pytest

from tests.server.conftest import Run


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("Cmaj77",), 4, ("     ^", "Did you mean Cmaj7?")),
        (("C", "--instrument", "gitar"), 2, ("gitar", "guitar")),
        (("C", "--instrument", "E2 A2 H3"), 4, ("E2 A2 H3", "      ^ ")),
        (("C", "--stroke", "strumm"), 2, ("strum",)),
        (("C", "--order", "eas"), 2, ("ease",)),
        (("C", "--strategy", "anny"), 2, ("any",)),
        (("C", "--fingers", "9"), 2, ("--fingers", "1 to 5")),
        (("C", "--fingers", "two"), 2, ("--fingers",)),
        (("C", "--strings", "5;4"), 2, ("--strings", "5,4,3,2")),
        (("C", "--strings", "0"), 2, ("--strings",)),
        (("C", "--strings", "7,8"), 2, ("--strings cannot be 8,7",)),
        (("C", "--instrument", "E2 " * 17), 2, ("--instrument cannot be 17 strings",)),
        (("C", "--limit", "0"), 2, ("--limit",)),
        (("C", "--top-note", "X"), 4, ("X",)),
        (("C", "--capo", "30"), 2, ("--capo",)),
        (("C", "--no-open", "--highest-fret", "1"), 3, ()),
        (("C", "--diverse", "--all"), 2, ("--limit cannot be left open", "diverse")),
        (("C13b9#11", "--instrument", "ukulele"), 3, ("4 strings", "C13b9 gives up the #11")),
        (("C", "D"), 2, ()),
    ],
)
def test_wrong_request_is_refused_with_what_helps(
    run: Run, arguments: tuple[str, ...], code: int, words: tuple[str, ...]
) -> None:
    """The exit code tells the kind, stderr tells how to go on, stdout stays empty."""
    result = run("voicings", *arguments)
    assert result.exit_code == code, result.stderr
    assert result.stdout == ""
    for word in words:
        assert word in result.stderr
    assert "Traceback" not in result.stderr


def test_nothing_found_says_which_condition_emptied_it(run: Run) -> None:
    """The sentence names what to give up."""
    result = run("voicings", "C", "--no-open", "--highest-fret", "1")
    assert result.exit_code == 3
    assert result.stderr.splitlines()[-1] in {
        "Loosen or leave out --highest-fret",
        "Loosen or leave out --no-open",
    }


@pytest.mark.parametrize(
    ("arguments", "prefix"),
    [
        (("F#m7b5", "--instrument", "baritone-b"), "baritone-b:"),
        (("Am7", "--instrument", "D2 A2 D3 G3 A3 D4"), "D2.A2.D3.G3.A3.D4:"),
        (("Am", "--capo", "2"), "guitar+capo2:"),
    ],
)
def test_instrument_of_the_request_stands_in_the_id(
    run: Run, arguments: tuple[str, ...], prefix: str
) -> None:
    """An id names the grip: instrument, capo and shape."""
    rows = [json.loads(line) for line in run("voicings", *arguments).stdout.splitlines()]
    assert len(rows) == 20
    assert all(row["id"].startswith(prefix) for row in rows)


def test_conditions_reach_the_search(run: Run) -> None:
    """What is asked for holds in every row."""
    result = run(
        *("voicings", "G13", "--strings", "5,4,3,2", "--top-degree", "13", "--no-open"),
        *("--lowest-fret", "3", "--highest-fret", "9", "--root", "none"),
    )
    rows = [json.loads(line) for line in result.stdout.splitlines()]
    assert rows
    for row in rows:
        frets = row["frets"]
        assert [fret is None for fret in frets] == [True, False, False, False, False, True]
        assert all(3 <= fret <= 9 for fret in frets[1:5])
        assert row["top_degree"] == "13"
        assert "1" not in row["degrees"]
