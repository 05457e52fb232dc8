"""Laws of charts: what is written reads back, and what is read is written the same."""

from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chart, ChartError, Chord
from gripwright.laws.drawing import charts


@given(charts())
def test_a_chart_prints_back_to_itself(chart: Chart[Chord]) -> None:
    """Reading what a chart prints gives an equal chart."""
    text = str(chart)
    assert Chart.parse(text) == chart
    assert str(Chart.parse(text)) == text


@given(charts())
def test_all_but_names_is_ascii(chart: Chart[Chord]) -> None:
    """A chart without names and comments is machine text."""
    lines = [
        line
        for line in str(chart).splitlines()
        if line.startswith(("|", "key:", "metre:", "tempo:", "pickup:"))
    ]
    assert all(line.isascii() for line in lines)


@given(charts())
def test_mapping_by_itself_changes_nothing(chart: Chart[Chord]) -> None:
    """Chords that stay leave the chart as it is."""
    assert chart.mapped(lambda chord: chord) == chart


ALPHABET = [
    *("|", "|:", ":|", "|1.", ":|2.", "|1,3.", "x3", "open", "%", "N.C.", "/", "//", "{1 2.5'}"),
    *("{", "}", "<C>", "<", "Dm7", "G7@3.5", "Cmaj77", "[A]", "[", "3/4", "Fine", "Coda", "Segno"),
    *(
        "To Coda",
        "D.C.",
        "D.S. al Coda",
        "al",
        "\n",
        "\nkey: F\n",
        "\nkey\n",
        "\nfoo: 1\n",
        ";",
        "@",
    ),
    *("\npickup: 1\n", "\nmetre: 6/8\n", "\ntempo: 9\n", ":", "'", "\u2028", "\x00", "𝄋"),
]


@given(st.lists(st.sampled_from(ALPHABET), max_size=25).map(" ".join) | st.text(max_size=60))
def test_any_text_is_a_chart_or_has_faults_in_it(text: str) -> None:
    """Nothing but `ChartError` is raised, and its faults lie in the text, in order."""
    try:
        chart = Chart.parse(text)
    except ChartError as error:
        lines = text.splitlines() or [""]
        assert error.faults
        for fault in error.faults:
            assert 1 <= fault.line <= len(lines)
            assert 1 <= fault.column <= len(lines[fault.line - 1]) + 1
            assert fault.expected
        places = [(fault.line, fault.column) for fault in error.faults]
        assert places == sorted(places)
    else:
        assert Chart.parse(str(chart)) == chart
        assert str(Chart.parse(str(chart))) == str(chart)
        chart.unfolded(open_times=1)
