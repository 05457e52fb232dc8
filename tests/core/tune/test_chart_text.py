"""The text of charts: what is read, how it is printed, and every fault with its place."""

from __future__ import annotations

import pickle
from fractions import Fraction

import pytest

from gripwright import Chart, ChartError, Chord, NotationError
from gripwright.meter import Hit, Meter
from gripwright.tune import OPEN, Bar, Key, Section, Settings, Slot

C, G7, DM7 = (Chord.parse(text) for text in ("C", "G7", "Dm7"))


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("Dm7 G7|Cmaj7", "| Dm7 G7 | Cmaj7 |"),
        ("| Dm7 G7 || Cmaj7 ||", "| Dm7 G7 | Cmaj7 |"),
        ("|CΔ7|D-7|", "| Cmaj7 | Dm7 |"),
        ("| C | F", "| C | F |"),
        ("| C | F | G | A | B |", "| C | F | G | A |\n| B |"),
        ("||: C :||", "|: C :|"),
        ("|: C :|: F :|", "|: C :|\n|: F :|"),
        ("|: C :|:F:| G |", "|: C :|\n|: F :|\n| G |"),
        ("|:C|1.F:|2.G|", "|: C |1. F :|2. G |"),
        ("|: C |1.F:|\n|2. G |", "|: C |1. F :|2. G |"),
        ("|: C |1-3. F :|4. G |", "|: C |1,2,3. F :|4. G |"),
        ("|: C :| X3", "|: C :| x3"),
        ("|: C :| OPEN | F |", "|: C :| open\n| F |"),
        ("| C / / F |", "| C / / F |"),
        ("| C /// |", "| C |"),
        ("| C / F / |", "| C F |"),
        ("| C | / / F / | //// |", "| C | / / F / | / / / / |"),
        ("| C G7@3 |", "| C G7 |"),
        ("| C G7@4 |", "| C / / G7 |"),
        ("| C G7@3.5 |", "| C G7@3.5 |"),
        ("| C G7@7/2 F@11/3 |", "| C G7@3.5 F@11/3 |"),
        ("| C | G7@2.5 |", "| C | G7@2.5 |"),
        ("| C | N.C.@2.5 |", "| C | N.C.@2.5 |"),
        ("| nc | N.C | n. c. |", "| N.C. | N.C. | N.C. |"),
        ("| <C6> | <Dm7>@1 <G7>@3.5 |", "| <C6> | <Dm7> <G7>@3.5 |"),
        ("| C {1 2.5' 4.5>} |", "| C {1 2.5' 4.5>} |"),
        ("| C {1:1 2.5:1.5 4.5:2>} |", "| C {1' 2.5:1.5 4.5:2>} |"),
        ("| C {1' 1.25} |", "| C {1' 1.25} |"),
        ("| C {1:1/4 1.25} |", "| C {1' 1.25} |"),
        ("| C {} |", "| C {} |"),
        ("| C | % | 𝄎 |", "| C | % | % |"),
        ("| 2/4 C | F 3+2/8 |", "| 2/4 C | 3+2/8 F |"),
        (
            "| segno C | F to coda | G d.s. AL coda | coda A |",
            "| Segno C | F To Coda | G D.S. al Coda | Coda A |",
        ),
        (
            "| 𝄋 C | F To 𝄌 | G DS al Coda | 𝄌 A |",
            "| Segno C | F To Coda | G D.S. al Coda | Coda A |",
        ),
        ("| C FINE | D C | E D. C. al fine |", "| C Fine | D C | E D.C. al Fine |"),
        ("| C FINE | E DC |", "| C Fine | E D.C. |"),
        ("[A] | C | [B] | F |", "[A]\n| C |\n[B]\n| F |"),
        ("[ Verse 1 ]|C|", "[Verse 1]\n| C |"),
        ("| C | [] F |", "| C |\n[]\n| F |"),
        ("Key : F\nTIME: 3/4\n| F |", "key: F\nmetre: 3/4\n| F |"),
        ("meter: 3/4\n| F / C |", "metre: 3/4\n| F / C |"),
        ("tempo: 120\nfeel:  slow swing \n| F |", "tempo: 120\nfeel: slow swing\n| F |"),
        ("pickup: 1.5\n| G7 | C |", "pickup: 1.5\n| G7 | C |"),
        ("pickup: 2\n| Dm7 G7@4.5 {3 4>} | C |", "pickup: 2\n| Dm7 G7@4.5 {3 4>} | C |"),
        ("| C |\nkey: G\n| G |", "| C |\n[]\nkey: G\n| G |"),
        ("title: A: B\n;one\n| C | ; two", "title: A: B\n; one\n; two\n| C |"),
        ("[A] ; one\n| C | ;two\n;", "[A]\n; one\n; two\n;\n| C |"),
        ("metre: 6/8\n| C F@5/3 |", "metre: 6/8\n| C F@5/3 |"),
        ("metre: 6/8\n| C / |", "metre: 6/8\n| C |"),
    ],
)
def test_text_and_print(text: str, printed: str) -> None:
    """Each way to write a thing has one way in which it is printed, which reads the same."""
    chart = Chart.parse(text)
    assert str(chart) == printed
    assert Chart.parse(printed) == chart


def test_shares_are_equal() -> None:
    """Two chords in a bar of three take a beat and a half each."""
    chart = Chart.parse("metre: 3/4\n| Dm7 G7 |")
    assert chart.bars[0].slots == (Slot(DM7), Slot(G7, Fraction(3, 2)))


def test_beats_are_pulses() -> None:
    """In twelve eighths a beat is a dotted quarter."""
    chart = Chart.parse("metre: 12/8\n| Dm7 / / G7 {4.5 14/3>} |")
    assert chart.bars[0].slots[1].onset == Fraction(9, 2)
    assert chart.bars[0].hits == (Hit(Fraction(21, 4)), Hit(Fraction(11, 2), push=True))


def test_the_parts_of_a_chart() -> None:
    """Every part of the text is where the model says."""
    chart = Chart.parse(
        "title: Sketch\nkey: Bb\ntempo: 140\npickup: 1\n; for a trio\n| G7 |\n"
        "[A]\nkey: Gm\n|: C | 2/4 <G7> {1'} |1. Dm7 :|2. % | [B] |: C :| open\n"
    )
    assert chart == Chart(
        [
            Section([Bar([Slot(G7)])]),
            Section(
                [
                    Bar([Slot(C)], repeat_start=True),
                    Bar(
                        [Slot(G7, held=True)],
                        hits=[Hit(Fraction(0), Fraction(1))],
                        meter=Meter(2, 4),
                    ),
                    Bar([Slot(DM7)], endings=[1], repeat_end=2),
                    Bar(same=True, endings=[2]),
                ],
                "A",
                Settings(Key.parse("Gm")),
            ),
            Section([Bar([Slot(C)], repeat_start=True, repeat_end=OPEN)], "B"),
        ],
        Settings(Key.parse("Bb"), tempo_bpm=140),
        "Sketch",
        Fraction(1),
        ["for a trio"],
    )


FAULTS = [
    # text, then of each fault: line, column, a part of what was expected, the nearest
    ("", [(1, 1, "a bar", None)]),
    ("\n; nothing\n", [(2, 1, "a bar", None)]),
    ("key: F", [(1, 1, "a bar", None)]),
    ("| Dm7 | Cmaj77 |", [(1, 14, "", "Cmaj7")]),
    ("| C |\n| Hm7 | C8 |", [(2, 3, "a letter from A to G", "Bm7"), (2, 10, "", "C")]),
    ("| C | | F |", [(1, 7, "N.C. in every bar", None)]),
    ("| C | Fine |", [(1, 7, "a chord, '/', '%'", None)]),
    ("| C | {1} |", [(1, 7, "a chord, '/', '%'", None)]),
    ("| C | % F |", [(1, 9, "'%' alone", None)]),
    ("| C | % {1} |", [(1, 9, "'%' alone", None)]),
    ("| % | C |", [(1, 3, "there is no bar before", None)]),
    ("| / / C / |", [(1, 3, "a chord at its start", None)]),
    ("| C@2 |", [(1, 3, "a chord at its start", None)]),
    ("metre: 3/4\n| 4/4 C | % |", [(2, 11, "as long as the one before", None)]),
    ("| C / |", [(1, 3, "4 beats, not 2", "C / / /")]),
    ("| C / / / / |", [(1, 3, "4 beats, not 5", None)]),
    ("| C | C@2 / |", [(1, 7, "not both", None), (1, 7, "4 beats, not 2", "C@2 / / /")]),
    ("| C G7 F@3 |", [(1, 5, "'@' and its place after every", None)]),
    ("| C G7@5 |", [(1, 8, "from beat 1 to before 5", None)]),
    ("| C G7@0.5 |", [(1, 8, "from beat 1 to before 5", None)]),
    ("| C G7@x |", [(1, 8, "from beat 1 to before 5", None)]),
    ("| C G7@3 F@3 |", [(1, 12, "after the one before", None)]),
    ("| C G7@1.000001 |", [(1, 8, "from beat 1", None)]),
    ("pickup: 1\n| G7 C@1 | F |", [(2, 8, "from beat 4 to before 5", None)]),
    ("| " + "C " * 65 + "|", [(1, 131, "at most 64 chords", None)]),
    ("| C {1 x 2.5} |", [(1, 8, "a place such as 2.5", None)]),
    ("| C {1:0} |", [(1, 6, "a place such as 2.5", None)]),
    ("| C {1:999} |", [(1, 6, "a place such as 2.5", None)]),
    ("| C {5} |", [(1, 6, "from beat 1 to before 5", None)]),
    ("| C {2 2} |", [(1, 8, "after the one before", None)]),
    ("| C {1} {2} |", [(1, 9, "hits once", None)]),
    ("| C {1 2 |", [(1, 5, "hits and '}'", None)]),
    ("| <C F> |", [(1, 3, "one chord and '>'", None)]),
    ("| <Hm> |", [(1, 4, "a letter from A to G", "Bm")]),
    ("| C | [A | F |", [(1, 7, "section and ']'", None)]),
    ("| C } |", [(1, 5, "a chord, a bar line", None)]),
    ("| C : |", [(1, 5, "a chord, a bar line", None)]),
    ("| 4/3 C |", [(1, 5, "1, 2, 4, 8", None)]),
    ("| C Fien |", [(1, 5, "", "Fine")]),
    ("| C Sengo |", [(1, 5, "a root", "Segno")]),
    ("| C | x4 |", [(1, 7, "':|' before", None)]),
    ("|: C :| x1 |", [(1, 9, "x2 to x99", None)]),
    ("|: C :| x100 |", [(1, 9, "x2 to x99", None)]),
    (":| C |", [(1, 1, "a bar before", None)]),
    ("| C |: ", [(1, 5, "a bar after", None)]),
    ("|: C | F |", [(1, 1, "':|' where the repeat ends", None)]),
    ("|: C |: F :|", [(1, 1, "':|' where the repeat ends", None)]),
    ("|: C |1. F |", [(1, 6, "':|' where the repeat ends", None)]),
    ("|: C |1. F |2. G |", [(1, 12, "':|' at the end of the ending before", None)]),
    ("|: C |1. F :|1. G |", [(1, 12, "one ending for pass 1", None)]),
    ("|: C |1. F :|3. G |", [(1, 6, "an ending for pass 2", None)]),
    ("|: C |2,1. F :| G |", [(1, 6, "rising from 1", None)]),
    ("|: C |0. F :| G |", [(1, 6, "rising from 1", None)]),
    ("|: C |1. F :| x3 |2. G |", [(1, 15, "the endings count the passes", None)]),
    ("| C D.S. |", [(1, 5, "a Segno before", None)]),
    ("| C D.S. | Segno F |", [(1, 5, "a Segno before", None)]),
    ("| C D.C. al Fine |", [(1, 5, "a bar with Fine", None)]),
    ("| C D.C. al Coda | Coda F |", [(1, 5, "To Coda in a bar on the way", None)]),
    ("| C To Coda | F D.C. al Coda |", [(1, 17, "a Coda after To Coda", None)]),
    ("| C D.C. D.C. |", [(1, 10, "one jump", None)]),
    ("| C Segno | F Segno |", [(1, 15, "once in a chart", None)]),
    ("[Coda] | C |\n[coda] | F |", [(2, 10, "once in a chart", None)]),
    ("[A]\n[B] | C |", [(1, 1, "a bar in every section", None)]),
    ("| C |\nkey: F", [(2, 1, "a bar in every section", None)]),
    (f"[{'x' * 121}] | C |", [(1, 1, "1 to 120 characters", None)]),
    ("keys: F\n| C |", [(1, 1, "a setting", "key")]),
    ("A: C\n| C |", [(1, 1, "or a section such as [A]", "[A]")]),
    ("key:\n| C |", [(1, 5, "a value of key", None)]),
    ("key: H\n| C |", [(1, 6, "a letter from A to G", None)]),
    ("metre: 4/3\n| C |", [(1, 10, "1, 2, 4, 8", None)]),
    ("tempo: fast\n| C |", [(1, 8, "10 to 400", None)]),
    ("tempo: 9\n| C |", [(1, 8, "10 to 400", None)]),
    ("feel: [x]\n| C |", [(1, 7, "1 to 120 characters", None)]),
    ("title: [x]\n| C |", [(1, 8, "1 to 120 characters", None)]),
    ("key: F\nkey: G\n| C |", [(2, 1, "one key", None)]),
    ("| C |\ntitle: x\n| C |", [(2, 1, "before the first bar", None)]),
    ("[A]\npickup: 1\n| C |", [(2, 1, "before the first bar", None)]),
    ("pickup: 4\n| C |", [(2, 3, "fewer than 4 beats", None)]),
    ("pickup: 0\n| C |", [(1, 9, "beats in the first bar", None)]),
    ("pickup: one\n| C |", [(1, 9, "beats in the first bar", None)]),
]


@pytest.mark.parametrize(("text", "faults"), FAULTS)
def test_faults(text: str, faults: list[tuple[int, int, str, str | None]]) -> None:
    """Each fault has its line and column, what was expected and the nearest readable text."""
    with pytest.raises(ChartError) as caught:
        Chart.parse(text)
    found = caught.value.faults
    assert [(fault.line, fault.column) for fault in found] == [fault[:2] for fault in faults]
    for fault, (_, _, expected, nearest) in zip(found, faults, strict=True):
        assert expected in fault.expected
        assert fault.nearest == nearest


def test_all_faults_at_once() -> None:
    """Faults of words, of bars and of the form come together, in the order of the text."""
    with pytest.raises(ChartError) as caught:
        Chart.parse("tempo: x\n|: Cmaj77 | G7 / |\n| | D.S. F |")
    assert [(fault.line, fault.column) for fault in caught.value.faults] == [
        *((1, 8), (2, 1), (2, 9), (2, 13)),
        *((3, 3), (3, 5)),
    ]
    assert str(caught.value).startswith("cannot read chart: 6 faults\n  line 1, column 8: ")


def test_one_fault_is_one_line() -> None:
    """The message follows the pattern of the library."""
    with pytest.raises(ChartError) as caught:
        Chart.parse("| Cmaj77 |")
    message = str(caught.value)
    assert message.startswith("cannot read chart: line 1, column 8: unexpected 'Cmaj77' (expected ")
    assert message.endswith("; did you mean 'Cmaj7'?)")


def test_a_thousand_faults_fill_no_screen() -> None:
    """All are carried, twenty are shown."""
    with pytest.raises(ChartError) as caught:
        Chart.parse("| H |\n" * 1000)
    assert len(caught.value.faults) == 1000
    assert str(caught.value).splitlines()[-1] == "  and 980 more"
    assert len(str(caught.value).splitlines()) == 22


def test_the_error_survives_pickling() -> None:
    """With its faults."""
    with pytest.raises(ChartError) as caught:
        Chart.parse("| H |")
    error = pickle.loads(pickle.dumps(caught.value))
    assert error.faults == caught.value.faults
    assert str(error) == str(caught.value)


def test_a_text_too_long_is_refused_at_once() -> None:
    """Its length is bounded, and nothing of it is read."""
    with pytest.raises(ChartError, match="100,000 characters"):
        Chart.parse("| C " * 25_001)


def test_another_reader_reads_the_symbols() -> None:
    """What is no chord can stand in a chart by a reader of its own, faults included."""

    def degree(text: str) -> int:
        if text.isdigit():
            return int(text)
        raise NotationError(what="degree", text=text, position=1, expected="digits", nearest="7")

    chart = Chart.parse("| 1 4 | <5> 1@3.5 N.C.@4 | 1 / / 5 |", reader=degree)
    assert str(chart) == "| 1 4 | <5> 1@3.5 N.C.@4 | 1 / / 5 |"
    assert [slot.symbol for bar in chart.bars for slot in bar.slots] == [1, 4, 5, 1, None, 1, 5]
    with pytest.raises(ChartError) as caught:
        Chart.parse("| 1 x5 |", reader=degree)
    assert [(fault.column, fault.nearest) for fault in caught.value.faults] == [(5, None)]
    with pytest.raises(ChartError) as caught:
        Chart.parse("| 1 y5 |", reader=degree)
    assert [(fault.column, fault.nearest) for fault in caught.value.faults] == [(6, "7")]
