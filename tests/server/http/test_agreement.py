"""The same request, asked of the library, of the command line and over HTTP."""

import json
from typing import Any

from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from gripwright import Chord, Hand, find_voicings, ranking
from gripwright.errors import GripwrightError
from gripwright_server.cli import ROOT
from gripwright_server.http import create_app
from tests.server.http.client import Answer, Client, client_of
from tests.server.http.conftest import REGISTRY, registry

CLIENT: Client = client_of(create_app(registry=registry))
SYMBOLS = ("C", "Am7", "Cmaj9", "F#m7b5", "G7/B", "Bb13", "Esus4", "Dm", "C/D", "Cmaj77", "")


def _options(asked: dict[str, Any]) -> list[str]:
    """A request as the command line has it."""
    words = []
    for name, value in asked.items():
        option = f"--{name.replace('_', '-')}"
        if value is True:
            words.append(option)
        elif isinstance(value, list):
            words += [option, ",".join(map(str, value))]
        elif value is not False and name not in {"symbol", "symbols", "chart"}:
            words += [option, str(value)]
    return words


def _command(name: str, places: list[str], asked: dict[str, Any]) -> Result:
    words = [name, *_options(asked), "--format", "json", "--", *places]
    return CliRunner().invoke(ROOT, words, prog_name="gripwright")


def _same(response: Answer, result: Result) -> None:
    """Both give the same document, or both refuse."""
    if response.status_code != 200:
        assert response.status_code == 422
        assert result.exit_code != 0
        return
    assert result.exit_code == 0, result.stderr
    document = response.json
    warnings = document.pop("warnings")
    document.pop("next")
    assert document == json.loads(result.stdout)
    assert [f"Warning: {one}" for one in warnings] == result.stderr.splitlines()


SEARCHES = st.fixed_dictionaries(
    {"symbol": st.sampled_from(SYMBOLS), "limit": st.integers(1, 30)},
    optional={
        "instrument": st.sampled_from(["guitar", "ukulele", "banjo", "D3 A3 D4", "gitar"]),
        "strategy": st.sampled_from(["any", "drop-2", "shell", "rootless", "quartal"]),
        "order": st.sampled_from(["teaching", "ease", "top"]),
        "reach_mm": st.integers(40, 130),
        "fingers": st.integers(1, 5),
        "capo": st.integers(0, 3),
        "strings": st.lists(st.integers(1, 6), min_size=1, max_size=4),
        "no_open": st.booleans(),
        "no_doubles": st.booleans(),
        "stroke": st.sampled_from(["any", "strum", "pluck"]),
        "top_note": st.sampled_from(["E", "G4", "Bb"]),
        "bass_degree": st.sampled_from(["1", "3", "b7"]),
        "diverse": st.booleans(),
    },
)


@settings(max_examples=40)
@given(asked=SEARCHES)
def test_searches_agree_with_the_command_line(asked: dict[str, Any]) -> None:
    """The same document, the same refusals."""
    response = CLIENT.post("/v1/voicings", json=asked)
    _same(response, _command("voicings", [asked["symbol"]], asked))


@settings(max_examples=40)
@given(asked=SEARCHES)
def test_searches_agree_with_the_library(asked: dict[str, Any]) -> None:
    """The same voicings, in the same order; nothing where the library finds nothing."""
    names = {"strings", "no_open", "no_doubles", "stroke", "bass_degree"}
    conditions = {name: value for name, value in asked.items() if name in names}
    plain = {name: asked[name] for name in names | {"symbol", "limit", "reach_mm"} if name in asked}
    response = CLIENT.post("/v1/voicings", json=plain)
    try:
        table = find_voicings(
            Chord.parse(asked["symbol"]),
            REGISTRY.instruments["guitar"],
            Hand(reach_mm=float(asked.get("reach_mm", 115))),
            REGISTRY.strategies["any"],
            **conditions,
        ).order_by(ranking.teaching)
    except GripwrightError:
        assert response.status_code == 422
        return
    if not len(table):
        assert response.json["type"] == "/v1/docs#problem-nothing-found"
        return
    assert response.json["count"] == len(table)
    rows = response.json["voicings"]
    assert [row["id"] for row in rows] == [voicing.id for voicing in table[: asked["limit"]]]
    assert [row["pitches"] for row in rows] == [
        [str(pitch) for pitch in voicing.pitches] for voicing in table[: asked["limit"]]
    ]


@given(
    symbols=st.lists(st.sampled_from(SYMBOLS[:-2]), min_size=1, max_size=4),
    german=st.booleans(),
    literal=st.booleans(),
)
def test_spelling_agrees(symbols: list[str], german: bool, literal: bool) -> None:  # noqa: FBT001 - drawn
    """With the command line, document and warnings."""
    asked = {"german": german, "literal": literal}
    query = {"symbol": symbols, **{name: str(value).lower() for name, value in asked.items()}}
    _same(CLIENT.get("/v1/spell", query_string=query), _command("spell", symbols, asked))


@settings(max_examples=15)
@given(
    bars=st.lists(
        st.sampled_from(["Dm7", "G7", "Cmaj7", "A7 D7", "N.C.", "Q"]), min_size=1, max_size=4
    ),
    band=st.sampled_from(["solo", "bass", "piano"]),
    loop=st.booleans(),
)
def test_lines_agree(bars: list[str], band: str, loop: bool) -> None:  # noqa: FBT001 - drawn
    """The cheapest line is the same, with its costs and its top notes."""
    chart = f"| {' | '.join(bars)} |"
    asked = {"band": band, "loop": loop, "candidates": 60}
    response = CLIENT.post("/v1/lead", json={"chart": chart, **asked})
    _same(response, _command("lead", [chart], asked))


@given(key=st.sampled_from(["C", "Eb", "F#m", "H"]), form=st.sampled_from(["turnaround", "x"]))
def test_charts_agree(key: str, form: str) -> None:
    """Bars, text and refusals."""
    asked = {"form": form, "key": key, "by": 2}
    _same(CLIENT.post("/v1/chart", json=asked), _command("chart", [], asked))
