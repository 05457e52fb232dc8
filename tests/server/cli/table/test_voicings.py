"""The table of voicings, as a player sees it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import Chord, Instrument, Registry, find_voicings, load_registry
from gripwright.neck.diagram import DOT
from gripwright_server.cli.screen import Screen
from gripwright_server.cli.table.voicings import lines as voicing_lines
from gripwright_server.operations.voicings import VoicingsRequest, VoicingsResult, voicings

REGISTRY: Registry = load_registry()


def _lines(request: VoicingsRequest, width: int = 80) -> list[str]:
    result = voicings(request, lambda: REGISTRY)
    return [line.rstrip() for line in voicing_lines(result, Screen(width=width))]


def test_head_names_chord_notes_degrees_count_and_instrument() -> None:
    """What was understood and on what it was searched stands on top."""
    first, second, third, *_ = _lines(VoicingsRequest(symbol="C-7/Bb", limit=2))
    assert first == "Cm7/Bb  C  Eb  G  Bb  over Bb"
    assert second == "        1  b3  5  b7"
    assert third.split(" on ")[0].replace(",", "").split()[1] == "voicings"
    assert third.endswith("(E2 A2 D3 G3 B3 E4)")


def test_foot_says_how_to_see_more_or_that_all_are_shown() -> None:
    """The last line tells whether there is more."""
    assert "--all" in _lines(VoicingsRequest(symbol="C", limit=2))[-1]
    few = VoicingsRequest(symbol="Cmaj7", strings=(5, 4, 3, 2), lowest_fret=3, highest_fret=5)
    assert _lines(few)[-1].startswith("All are shown")


def test_foot_of_diverse_voicings_says_how_to_have_them_in_order() -> None:
    """Who sees a choice can go back to the order."""
    lines = _lines(VoicingsRequest(symbol="C", limit=6, diverse=True))
    assert "--diverse" in lines[-1]
    assert "--all" not in lines[-1]


def test_shape_diagram_degrees_and_pitches_stand_together() -> None:
    """Each grip has its text above and its tones below, under their strings."""
    request = VoicingsRequest(
        symbol="Cmaj7", strings=(5, 4, 3, 2), lowest_fret=3, highest_fret=5, no_open=True
    )
    lines = _lines(request, width=22)
    place = lines.index("   x-3-5-4-5-x")
    assert lines[place : place + 8] == [
        "   x-3-5-4-5-x",
        "   x              x",
        "   ────────────────",
        " 3 │  ●  │  │  │  │",
        "   │  │  │  ●  │  │",
        "   │  │  ●  │  ●  │",
        "   │  │  │  │  │  │",
        "      1  5  7  3",
    ]
    assert lines[place + 8 : place + 10] == ["      C3 G3 B3 E4", "   drop-2, …"]


@given(
    symbol=st.sampled_from(["C", "G7", "Dm7", "C13", "F#m7b5", "Bbb7", "Eb6/9"]),
    name=st.sampled_from(["guitar", "banjo", "ukulele", "baritone-b", "eight-string", "tenor"]),
    width=st.sampled_from([40, 80, 100, 160]),
)
def test_table_fits_the_screen_and_shows_every_press(symbol: str, name: str, width: int) -> None:
    """No line is wider than the screen, and no dot gets lost between the diagrams."""
    instrument = REGISTRY.instruments[name]
    table = find_voicings(Chord.parse(symbol), instrument)[-20:]
    result = VoicingsResult(Chord.parse(symbol), instrument, table, table)
    lines = [line.rstrip() for line in voicing_lines(result, Screen(width=width))]
    diagrams = lines[3:-1]
    assert max(map(len, diagrams)) <= width
    dots = sum(line.count(DOT) for line in diagrams)
    assert dots == sum(sum(fret > 0 for fret in voicing.frets) for voicing in table)


@pytest.mark.parametrize("strings", [3, 10])
def test_few_strings_and_many_can_be_drawn(strings: int) -> None:
    """From three strings to ten the diagrams keep to the screen."""
    tuning = " ".join(["E2", "A2", "D3", "G3", "B3", "E4", "A4", "D5", "G5", "C6"][:strings])
    instrument = Instrument.from_text(tuning, frets=24)
    table = find_voicings(Chord.parse("Am"), instrument, max_notes=4)[:6]
    result = VoicingsResult(Chord.parse("Am"), instrument, table, table)
    assert max(len(line.rstrip()) for line in voicing_lines(result, Screen())) <= 80
