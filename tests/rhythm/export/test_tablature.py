"""Tablature: what a player reads, line by line. The layout is common practice in plain text."""

from __future__ import annotations

from fractions import Fraction
from textwrap import dedent
from typing import Any

import attrs
import pytest

from gripwright import Chart, Chord, ConditionError, Instrument, Meter, RhythmPattern, Voicing, lead
from gripwright.score.sample import sample_score
from gripwright_rhythm.drill import make_drill
from gripwright_rhythm.export.ascii_text import ascii_text
from gripwright_rhythm.export.tablature import TextExporter
from tests.rhythm.export.scores import INSTRUMENTS, chord, drill, one_bar


def tab(*arguments: Any, width: int = 80, **settings: Any) -> str:
    """Return the tablature of a drill without count-in."""
    score = drill(*arguments, **{"count_in": 0, **settings})
    return TextExporter(width=width).export(score).decode("ascii")


def test_the_whole_page_of_the_sample() -> None:
    """A long chord is seen to last four beats, a short one to end on the second."""
    assert TextExporter().export(sample_score()).decode("ascii") == dedent(
        """\
        Sample
        strings E2 A2 D3 G3 B3 E4. 4/4, 60 beats a minute, key C.
        Rhythm: long, then short.
        Click: all beats.

        = sounds; - silent; x muted; v down; * click

        Count-in: 1 bar of 4/4, 4 clicks.

        Chorus 1:

           1: Dm7              G7
           E4|x---------------|x---------------|
           B3|6===============|3===------------|
           G3|5===============|4===------------|
           D3|7===============|3===------------|
           A2|5===============|x---------------|
           E2|x---------------|3===------------|
         beat 1 & 2 & 3 & 4 &  1 & 2 & 3 & 4 &
         hand v                v
        click *   *   *   *    *   *   *   *
        """
    )


def test_an_anticipation_is_marked_and_sounds_on_over_the_bar_line() -> None:
    """It bears its sign, and the chord needs no name again after it."""
    text = tab("| C | F |", "1 2.5' 4.5>", on=INSTRUMENTS["ukulele"])
    assert "   1: C             >F               >F\n" in text
    assert "   A4|3=====3=------3=|3=====3=------3=|" in text
    assert "hand v     ^       ^  v     ^       ^" in text
    assert ">C anticipates its chord" in text


def test_the_chord_of_an_ending_that_nobody_attacks_is_named() -> None:
    """It sounds on from the anticipation before it."""
    text = tab("| C | F |", "1 4.5>", on=INSTRUMENTS["ukulele"], choruses=2)
    assert "Ending:\n\n   5: " in text
    ending = text.partition("Ending:")[2].splitlines()
    assert ending[3].count("=") == 16


def test_an_approach_stands_in_brackets() -> None:
    """It is none of the chart's chords."""
    text = tab("| Dm7 | G7 |", "1 4(above)")
    assert "(" in text.partition("   1: ")[2].splitlines()[0]
    assert "(C) leads to the next chord" in text


def test_an_accent_a_stroke_and_a_click_stand_under_the_beats() -> None:
    """Each in its row, at its beat."""
    text = tab("| C |", "1 2! 2.5^", "2 4", on=INSTRUMENTS["ukulele"])
    assert " beat 1 & 2 & 3 & 4 &" in text
    assert " hand v   v!^" in text
    assert "click     *       *" in text
    assert "! accent" in text


def test_bass_and_root_have_rows_of_their_own() -> None:
    """Notes by name, with their lengths."""
    text = tab("| C | G7 |", "1'", bass=True, root="held")
    assert " bass C2======G1====== G1======D2======" in text
    assert " root C2============== G2==============" in text


def test_equal_choruses_are_said_and_not_drawn_again() -> None:
    """One sentence for all of them, with what differs."""
    text = tab("| C | F |", "1 3", choruses=5)
    assert "Choruses 2 to 5, bars 3 to 10: as chorus 1.\n" in text
    assert text.count("E4|") == 1
    faster = tab("| C | F |", "1 3", choruses=3, tempo_step=6)
    assert "Chorus 2, bars 3 to 4: as chorus 1, at 66 beats a minute.\n" in faster
    assert "Chorus 3, bars 5 to 6: as chorus 1, at 72 beats a minute.\n" in faster


def test_a_chorus_that_differs_in_a_bar_shows_that_bar() -> None:
    """The rest is said; the bars that are drawn bear their numbers."""
    score = drill("| C | F | G7 | C |", "1 3", choruses=3, on=INSTRUMENTS["ukulele"])
    less = attrs.evolve(score, events=score.events[:-1])
    text = TextExporter().export(less).decode("ascii")
    assert "Chorus 2, bars 5 to 8: as chorus 1.\n" in text
    assert "Chorus 3, bars 9 to 12: as chorus 1, softer, but for this:\n\n  12: C\n" in text
    assert text.count("A4|") == 2


def test_a_growing_pattern_is_louder() -> None:
    """Where nothing else differs, the words say so."""
    loud = attrs.evolve(RhythmPattern.parse("1 3"), dynamic=100)
    pattern = attrs.evolve(RhythmPattern.parse("1 3"), later=(loud,))
    line = lead(Chart.parse("| C | F |"), INSTRUMENTS["ukulele"])
    score = make_drill(line, pattern, choruses=3)
    text = TextExporter().export(score).decode("ascii")
    assert "Choruses 2 and 3, bars 3 to 6: as chorus 1, louder.\n" in text


def test_a_short_string_and_its_frets_are_explained() -> None:
    """The fifth string of a banjo starts at fret 5 (common practice)."""
    text = tab("| G |", "1", on=INSTRUMENTS["banjo"])
    assert "\n   D4|" in text
    assert text.index("   D4|") < text.index("   G4|")
    assert "String 5 starts at fret 5: 0 is its open string, 6 its lowest press.\n" in text


def test_two_digits_leave_room_for_the_length() -> None:
    """Sixteenth notes at fret 10 and above do not run into one another."""
    own = Instrument.from_text("C4 E4", id="two")
    events = [
        attrs.evolve(
            chord(f"{place}/4", f"{place + 1}/4"),
            voicing=Voicing(Chord.parse("Bb5"), own, (10, 13)),
        )
        for place in range(4)
    ]
    text = TextExporter().export(one_bar(events, instrument=own)).decode("ascii")
    assert "   C4|10=10=10=10=------" in text


def test_swing_is_written_even_and_said() -> None:
    """A swung and stands halfway, as in print."""
    text = tab("| C |", "1 2.5'", swing=2, on=INSTRUMENTS["ukulele"])
    assert "swing 2 to 1 (written even)" in text
    assert "   A4|3=====3=--------|" in text


def test_a_pickup_starts_on_its_beat_and_is_played_once() -> None:
    """Beats are counted as in a whole bar; later choruses are like the first without it."""
    chart = "metre: 3/4\npickup: 1\n[A]\n| G7 | C | F | G7 |"
    text = tab(chart, "1 3'", meter=Meter(3, 4), choruses=2, count_in=1)
    assert "Count-in: 1 bar of 3/4, up to the pickup, 2 clicks." in text
    assert " beat 3 &  1 & 2 & 3 &" in text
    assert "      [A]\n   1: G7" in text
    assert "Chorus 2, bars 4 to 6: as chorus 1.\n" in text


def test_a_compound_beat_has_three_parts() -> None:
    """6/8 counts two (common practice)."""
    text = tab("metre: 6/8\n| Am | G |", "1 2", meter=Meter(6, 8))
    assert " beat 1 . . 2 . .  1 . . 2 . ." in text


def test_a_change_of_metre_is_shown_where_it_comes() -> None:
    """Over the bar, and not again in the next."""
    chart = "| C | F |\n[B]\nmetre: 3/4\n| G7 | C |"
    line = lead(Chart.parse(chart), INSTRUMENTS["ukulele"])
    score = make_drill(line, RhythmPattern.parse("1"), count_in=0)
    text = TextExporter().export(score).decode("ascii")
    assert text.count("3/4") == 1
    assert "      [B] 3/4\n   3: G7" in text


def test_a_bar_wider_than_a_line_is_broken_at_a_beat() -> None:
    """The broken ends have a colon where bar lines have a stroke."""
    pattern = "1 1.75 2 2.25 7"
    high = {"lowest_fret": 9, "no_open": True, "max_notes": 4}
    text = tab("metre: 12/4\n| C13 |", pattern, meter=Meter(12, 4), conditions=high, click="off")
    strings = [line for line in text.splitlines() if line.startswith("   E4")]
    assert [line[5] + line[-1] for line in strings] == ["|:", ":|"]
    assert " beat 7 " in text.replace("  ", " ")


def test_ends_that_no_column_meets_are_rounded_and_said() -> None:
    """Half a beat and a bit still looks like half a beat."""
    text = tab("| C |", "1' 2' 3' 4'", staccato=Fraction(11, 20), on=INSTRUMENTS["ukulele"])
    assert "Drawn to the nearest 1/8 of a quarter note.\n" in text
    assert "   A4|3===----3===----3===----3===----|" in text


def test_attacks_too_close_for_any_line_are_refused() -> None:
    """The error says that the line is too short for them."""
    with pytest.raises(ConditionError, match=r"attacks cannot be .* a line of 74 columns"):
        tab("| C |", "1 1.02", on=INSTRUMENTS["ukulele"])


def test_what_the_chart_has_and_nobody_plays_is_named() -> None:
    """N.C., and a chord that no attack sounds."""
    text = tab("| C | N.C. | F |", "1'", on=INSTRUMENTS["ukulele"])
    assert "   1: C                N.C.             F\n" in text


def test_a_title_loses_its_accents() -> None:
    """The file is ASCII."""
    score = attrs.evolve(sample_score(), title="Étude – „B♭“")
    text = TextExporter().export(score).decode("ascii")
    assert text.startswith('Etude - ?Bb"\n')
    assert ascii_text("練\n習") == "? ?"


@pytest.mark.parametrize("width", [59, 401])
def test_a_width_out_of_range_is_refused(width: int) -> None:
    """By name."""
    with pytest.raises(ConditionError, match="width"):
        TextExporter(width=width)


def test_a_wider_page_holds_more_bars() -> None:
    """Lines of four bars become lines of eight."""
    chart = "| C | F | G7 | C | C | F | G7 | C |"
    uke = INSTRUMENTS["ukulele"]
    assert tab(chart, "1", on=uke).count("A4|") == 2
    assert tab(chart, "1", on=uke, width=160).count("A4|") == 1


def test_grips_that_the_player_places_are_listed_once() -> None:
    """Each chord with its shape, under the bars."""
    line = lead(Chart.parse("| Dm7 | G7 | Dm7 |"), INSTRUMENTS["guitar"], max_notes=4)
    text = TextExporter().export(make_drill(line, None)).decode()
    shapes = [step.voicing.shape for step in line.steps]
    said = dict.fromkeys((f"Dm7 {shapes[0]}", f"G7 {shapes[1]}", f"Dm7 {shapes[2]}"))
    assert f"Grips: {', '.join(said)}." in " ".join(text.split())
