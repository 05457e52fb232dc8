"""Charts as a picture: the page of the format svg."""

from collections.abc import Iterable
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from defusedxml import ElementTree  # type: ignore[import-untyped]

from tests.server.conftest import Run, RunProcess

SVG = "{http://www.w3.org/2000/svg}"
BLUES = ["F7", "Bb7", "F7", "Cm7", "F7", "Bb7", "Bdim7", "F7"]
BLUES += ["Am7", "D7", "Gm7", "C7", "F7", "D7", "Gm7", "C7"]

AABA = """title: Song <form> & "more"
key: Bb
tempo: 132
feel: swing
[A]
|: Bbmaj7 | Gm7 | Cm7 F7 | Dm7 G7 | Cm7 | F7 |1. Bb6 G7 | Cm7 F7 :|2. Bb6 | % |
[B]
| Segno Fm7 | Bb7b9 | <Ebmaj7> | Ebm6 To Coda | Gm7 {1 2.5' 4.5>} | C7 / / C7b9 | Cm7 | F7 |
[A2]
| Bbmaj7 | Gm7 | 3/4 Cm7 | F7 | Bb6 {} | N.C. | Cm7 | F7 D.S. al Coda |
[Coda]
|: Bb6 | Ebm6 :| x3
"""


def _page(run: Run, *arguments: str) -> Element:
    result = run("chart", *arguments, "--format", "svg")
    assert result.exit_code == 0, result.stderr
    root: Element = ElementTree.fromstring(result.stdout)
    assert root.tag == f"{SVG}svg"
    return root


def _texts(root: Element, *, size: float = 0.0, anchor: str | None = None) -> list[Element]:
    return [
        element
        for element in root.iter(f"{SVG}text")
        if float(element.attrib["font-size"]) >= size
        and anchor in {None, element.attrib["text-anchor"]}
    ]


def _words(elements: Iterable[Element]) -> list[str]:
    return [element.text or "" for element in elements]


def _chords(root: Element, *, bold: bool = True) -> list[Element]:
    """The symbols between the bar lines, which stand below the rule of the head."""
    rule = next(float(line.attrib["y1"]) for line in root.iter(f"{SVG}line"))
    return [
        text
        for text in _texts(root, size=12.6, anchor="start")
        if float(text.attrib["y"]) > rule and ("font-weight" in text.attrib) == bold
    ]


def _upright(root: Element, *, thick: bool) -> list[tuple[float, float]]:
    """Where the bar lines stand that are higher than a symbol."""
    lines = [line.attrib for line in root.iter(f"{SVG}line")]
    return [
        (float(line["x1"]), float(line["y1"]))
        for line in lines
        if line["x1"] == line["x2"]
        and abs(float(line["y2"]) - float(line["y1"])) > 40
        and (float(line["stroke-width"]) > 2) == thick
    ]


def _dots(root: Element) -> list[dict[str, str]]:
    return [dot.attrib for dot in root.iter(f"{SVG}circle")]


def test_file_that_ends_in_svg_gets_the_page(run: Run, tmp_path: Path) -> None:
    """A4 wide and high, in ASCII, and its description is the text of the chart."""
    path = tmp_path / "tune.svg"
    result = run("chart", AABA, "-o", str(path))
    assert (result.exit_code, result.stdout) == (0, "")
    root = ElementTree.fromstring(path.read_text(encoding="ascii"))
    assert (root.attrib["width"], root.attrib["height"]) == ("210mm", "297mm")
    text = run("chart", AABA, "--format", "text").stdout
    assert next(root.iter(f"{SVG}desc")).text == text.removesuffix("\n")


def test_every_symbol_is_there_in_order(run: Run) -> None:
    """The chords of a jazz blues (common practice), at one size and in reading order."""
    chords = _chords(_page(run, "--form", "jazz-blues", "--key", "F"))
    assert _words(chords) == BLUES
    assert {chord.attrib["font-size"] for chord in chords} == {"25"}


def test_every_symbol_of_a_long_form_is_there(run: Run) -> None:
    """Also held ones, N.C. and those of bars with hits; the sign % is drawn, not written."""
    words = _words(_chords(_page(run, AABA)))
    text = AABA.partition("[A]\n")[2].replace("<", "").replace(">", "")
    known = {"Segno", "To", "Coda", "D.S.", "al", "3/4", "{1", "2.5'", "4.5}", "{}", "%", "/"}
    wanted = [
        word
        for word in text.split()
        if word not in known and not word.startswith("[") and "|" not in word and word != "x3"
    ]
    assert words == wanted


def test_four_bars_stand_in_a_row(run: Run) -> None:
    """Three rows of a blues, with bar lines at the same places in each."""
    root = _page(run, "--form", "jazz-blues", "--key", "F")
    rows: dict[str, list[str]] = {}
    for chord in _chords(root):
        rows.setdefault(chord.attrib["y"], []).append(chord.text or "")
    assert list(rows.values()) == [BLUES[:5], BLUES[5:10], BLUES[10:]]
    lines = _upright(root, thick=False) + _upright(root, thick=True)
    assert len(lines) == 3 * 5 + 1
    assert len({y for _, y in lines}) == 3


def test_crowded_bars_stand_in_wider_columns(run: Run) -> None:
    """Chords that could not be read four bars a row get two, or one."""
    bar = "| Bbmaj7#11 Ebmaj7#11 Abmaj7#11 Dbmaj7#11 "
    chords = _chords(_page(run, f"{bar * 4}|"))
    assert len(chords) == 16
    assert min(float(chord.attrib["font-size"]) for chord in chords) >= 13
    # Smaller letters stand lower on a line around whose middle all are set.
    middles = {
        round(float(one.attrib["y"]) - 0.36 * float(one.attrib["font-size"])) for one in chords
    }
    assert len(middles) in {2, 4}


def test_symbols_stand_at_their_beats(run: Run) -> None:
    """A chord on beat 3 is half way; one on beat 4 has slashes for the beats below it."""
    root = _page(run, "| C F | C / / F | C | G |")
    first, half, second, late, third, _ = (float(one.attrib["x"]) for one in _chords(root))
    # The first bar also holds the metre.
    assert half - first == pytest.approx((second - first - 10) / 2, abs=10)
    assert late - second == pytest.approx((third - second - 10) * 3 / 4, abs=5)
    slashes = [
        line.attrib
        for line in root.iter(f"{SVG}line")
        if line.attrib["x1"] != line.attrib["x2"] and line.attrib["y1"] != line.attrib["y2"]
    ]
    thick = [float(line["stroke-width"]) > 2 for line in slashes]
    assert thick == [True, False, False, True]


def test_repeats_have_thick_lines_and_dots(run: Run) -> None:
    """Two dots each, on the inner side; how often stands above where it is not twice."""
    root = _page(run, "|: C | F :| x3 |: G | C :|")
    (left, _), (middle, _), (right, _) = _upright(root, thick=True)
    dots = sorted(float(dot["cx"]) for dot in _dots(root))
    assert len(dots) == 8
    assert dots[0] == dots[1] > left
    assert dots[2] == dots[3] < middle < dots[4] == dots[5]
    assert dots[6] == dots[7] < right
    assert "x3" in _words(_texts(root))
    assert "x2" not in _words(_texts(root))


def test_plain_bars_have_no_sign_of_a_repeat(run: Run) -> None:
    """The end has a final line and no dots."""
    root = _page(run, "| C | F |")
    assert (len(_upright(root, thick=True)), _dots(root)) == (1, [])


def test_endings_have_brackets_with_their_numbers(run: Run) -> None:
    """The second, which has no room beside the first, stands below it under an open bracket."""
    root = _page(run, "|: C | Am7 | F |1,3. G7 :|2. C6 | F6 |")
    numbers = {one.text: one.attrib for one in _texts(root) if (one.text or "").endswith(".")}
    assert list(numbers) == ["1, 3.", "2."]
    first, second = numbers["1, 3."], numbers["2."]
    assert first["x"] == second["x"]
    assert float(first["y"]) < float(second["y"])
    hooks = [
        line.attrib
        for line in root.iter(f"{SVG}line")
        if line.attrib["x1"] == line.attrib["x2"]
        and 10 < float(line.attrib["y2"]) - float(line.attrib["y1"]) < 20
    ]
    assert len(hooks) == 3


def test_sections_jumps_and_head_are_written(run: Run) -> None:
    """Letters stand in boxes; what the chart says stands at the top, escaped."""
    root = _page(run, AABA)
    words = _words(_texts(root))
    assert words[0] == 'Song <form> & "more"'
    assert words[1] == "Key of Bb, 132 beats a minute, swing"
    for word in ("A", "B", "A2", "Coda", "Segno", "To Coda", "D.S. al Coda", "x3", "break", ">"):
        assert word in words, word
    assert len(list(root.iter(f"{SVG}rect"))) == 1 + 4
    # The metre where it changes and where it changes back.
    meters = [word for word in words if word in {"3", "4"}]
    assert meters == ["4", "4", "3", "4", "4", "4"]


def test_gripped_chords_stand_below_the_sounding(run: Run) -> None:
    """Under a capo at fret 3 a chart in Eb is gripped in C."""
    root = _page(run, "key: Eb\n| Eb6 | / / / / | Ab Bb7 | % |", "--capo", "3")
    sounding, gripped = _chords(root), _chords(root, bold=False)
    assert _words(sounding) == ["Eb6", "Ab", "Bb7"]
    assert _words(gripped) == ["C6", "F", "G7"]
    for above, below in zip(sounding, gripped, strict=True):
        assert above.attrib["x"] == below.attrib["x"]
        assert float(above.attrib["y"]) < float(below.attrib["y"])
    assert "Key of Eb (gripped in C), capo at fret 3" in _words(_texts(root))


def test_numerals_are_drawn_as_numerals(run: Run) -> None:
    """And a chart that was transposed in its new key."""
    chart = "key: C\n| Dm7 G7 | Cmaj7 |"
    assert _words(_chords(_page(run, chart, "--numerals"))) == ["ii7", "V7", "Imaj7"]
    assert _words(_chords(_page(run, chart, "--to-key", "F"))) == ["Gm7", "C7", "Fmaj7"]


def test_pickup_stands_before_four_bars(run: Run) -> None:
    """It is narrower, and in the row of the bars that follow."""
    chords = _chords(_page(run, "pickup: 1\n| G7 | C | F | G | C6 | F6 |"))
    assert len({chord.attrib["y"] for chord in chords[:5]}) == 1
    assert chords[5].attrib["y"] != chords[4].attrib["y"]
    places = [float(chord.attrib["x"]) for chord in chords[:5]]
    assert places[1] - places[0] < places[2] - places[1]


def test_long_chart_makes_a_longer_page(run: Run) -> None:
    """Its last row stands above the lower edge."""
    root = _page(run, "| C | F | G | C6 " * 32 + "|")
    assert float(root.attrib["height"].removesuffix("mm")) > 297
    bottom = float(root.attrib["viewBox"].split()[3])
    assert max(float(chord.attrib["y"]) for chord in _chords(root)) < bottom - 40


@pytest.mark.parametrize(("theme", "page"), [(None, "#FFFFFF"), ("dark", "#16181C")])
def test_page_is_black_on_white_unless_asked_otherwise(
    run: Run, theme: str | None, page: str
) -> None:
    """Printing is what a chart is for."""
    root = _page(run, AABA, *(() if theme is None else ("--theme", theme)))
    assert next(root.iter(f"{SVG}rect")).attrib["fill"] == page
    inks = {text.attrib["fill"] for text in root.iter(f"{SVG}text")}
    assert (inks == {"#000000"}) == (theme is None)


def test_page_repeats_itself_in_ascii(run_process: RunProcess) -> None:
    """Equal requests give equal bytes, in processes of their own."""
    first, second = (
        run_process("chart", f"{AABA}; \u00e9\n", "--format", "svg", PYTHONHASHSEED=seed)
        for seed in ("1", "2")
    )
    assert first.returncode == 0, first.stderr
    assert first.stdout == second.stdout
    assert first.stdout.isascii()
