"""The usual instruments against published and commonly known values."""

import csv
import math
from pathlib import Path

import pytest

from gripwright import Instrument, load_registry
from gripwright_tunings.plugin import gripwright_instruments

DATA = Path(__file__).parents[1] / "data"
BY_ID = {instrument.id: instrument for instrument in gripwright_instruments()}


def rows_of(name: str) -> list[dict[str, str]]:
    """Read a table of the test data; its first line is a remark."""
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return list(
        csv.DictReader((line for line in lines if not line.startswith("#")), delimiter="\t")
    )


def published(fact: str) -> str:
    """Return a value of the table of published values."""
    (row,) = [row for row in rows_of("published-values.tsv") if row["fact"] == fact]
    return row["value"]


def open_pitches(instrument: Instrument) -> str:
    """Return the open strings as a table writes them."""
    return " ".join(str(string.open) for string in instrument.strings)


@pytest.mark.parametrize("row", rows_of("tunings.tsv"), ids=lambda row: row["id"])
def test_each_tuning_is_as_the_table_has_it(row: dict[str, str]) -> None:
    """Strings (common practice), MIDI numbers (computed), frets and lengths (from memory)."""
    instrument = BY_ID[row["id"]]
    assert open_pitches(instrument) == row["strings"]
    midi = " ".join(str(string.open.midi) for string in instrument.strings)
    assert midi == row["midi"]
    assert instrument.frets == int(row["frets"])
    assert {string.scale_mm for string in instrument.strings} == {float(row["scale_mm"])}


# Common practice; frets and scale lengths from memory of usual makes.
@pytest.mark.parametrize(
    ("name", "strings", "frets", "scale_mm"),
    [
        ("bass", "E1 A1 D2 G2", 24, 864),
        ("bass-five", "B0 E1 A1 D2 G2", 24, 864),
        ("twelve-string", "E2 A2 D3 G3 B3 E4", 20, 648),
    ],
)
def test_the_instruments_beyond_the_table(
    name: str, strings: str, frets: int, scale_mm: float
) -> None:
    """Basses of four and five strings, and twelve strings in six courses."""
    instrument = BY_ID[name]
    assert open_pitches(instrument) == strings
    assert (instrument.frets, instrument.scale_mm) == (frets, scale_mm)


def test_the_instruments_are_those_of_the_table_and_three_more_in_its_order() -> None:
    """Nothing is missing, nothing unknown; the guitar comes first."""
    table = [row["id"] for row in rows_of("tunings.tsv")]
    assert [name for name in BY_ID if name in table] == table
    assert set(BY_ID) - set(table) == {"bass", "bass-five", "twelve-string"}
    assert next(iter(BY_ID)) == "guitar"


def test_courses_of_paired_strings_list_their_mates() -> None:
    """Twelve strings: lower four courses in octaves, upper two in unison (common practice)."""
    twelve = BY_ID["twelve-string"].strings
    distances = [[mate.midi - course.open.midi for mate in course.doubles] for course in twelve]
    assert distances == [[12], [12], [12], [12], [0], [0]]
    assert all(course.doubles == (course.open,) for course in BY_ID["mandolin"].strings)
    paired = {name for name, own in BY_ID.items() if any(string.doubles for string in own.strings)}
    assert paired == {"twelve-string", "mandolin"}


def test_only_the_banjo_has_a_short_string() -> None:
    """Its fifth string, on the bass side, starts at the fifth fret (common practice)."""
    short = {
        (name, index): string.first_fret
        for name, own in BY_ID.items()
        for index, string in enumerate(own.strings)
        if string.first_fret
    }
    assert short == {("banjo", 0): 5}


def test_a_short_string_sounds_its_open_pitch_at_its_nut() -> None:
    """Fret f of a string that starts at fret 5 sounds open + f - 5."""
    banjo = BY_ID["banjo"]
    assert banjo.sounding(0, 0) == 67
    assert banjo.sounding(0, 6) == 68
    assert banjo.sounding(0, 12) == 74


def test_open_strings_of_the_guitar_have_their_frequencies() -> None:
    """EADGBE in hertz at A4 = 440 Hz (ISO 16:1975), equal temperament."""
    wanted = [float(hz) for hz in published("guitar EADGBE open Hz").split()]
    heard = [string.open.frequency() for string in BY_ID["guitar"].strings]
    assert heard == pytest.approx(wanted, abs=5e-5)


@pytest.mark.parametrize("instrument", BY_ID.values(), ids=lambda own: own.id)
def test_frets_lie_where_equal_temperament_puts_them(instrument: Instrument) -> None:
    """The first space is L/17.817 and the twelfth fret half-way (twelfth-root rule, computed)."""
    constant = 1 / (1 - 2 ** (-1 / 12))
    assert f"{constant:.4f}" in published("12-TET distance fret n to bridge")
    length = instrument.scale_mm
    last = len(instrument.strings) - 1
    assert instrument.place_mm(last, 1) == pytest.approx(length / 17.8172, rel=1e-5)
    assert instrument.place_mm(last, 12) == pytest.approx(length / 2)
    for fret in range(1, instrument.frets + 1):
        to_bridge = length - instrument.place_mm(last, fret)
        assert to_bridge == pytest.approx(length / math.pow(2, fret / 12))


def test_the_twelfth_fret_of_a_classical_scale_is_exact() -> None:
    """325.00 mm at 650 mm, where the rule of 18 gives 322.64 (Buckland 2021; Mottola 2017)."""
    value = published("rule of 18: 12th fret from nut at L=650")
    assert value.startswith("322.64 mm (325.00 exact)")
    classical = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=19, scale_mm=650.0)
    assert classical.place_mm(0, 12) == pytest.approx(325.00, abs=1e-9)
    by_rule_of_18 = 650 * (1 - (17 / 18) ** 12)
    assert by_rule_of_18 == pytest.approx(322.64, abs=5e-3)


def test_the_plugin_brings_them_by_its_entry_point() -> None:
    """They stand in the registry as any stranger's would."""
    registry = load_registry(strict=True)
    (info,) = [info for info in registry.plugins if info.distribution == "gripwright-tunings"]
    assert (info.name, info.entry_point) == ("tunings", "gripwright_tunings.plugin")
    assert info.instruments == tuple(BY_ID)
    assert registry.instruments["guitar"] == BY_ID["guitar"]
