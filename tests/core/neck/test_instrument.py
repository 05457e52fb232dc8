"""Instruments: strings as strung, frets along the neck, capos and text."""

import pickle

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import GripwrightError, Instrument, InstrumentString, Pitch
from gripwright.errors import ConditionError, NotationError
from gripwright.laws.drawing import instruments
from tests.core.neck.enumerator import neck_of
from tests.core.neck.reference import instrument, rows


@pytest.mark.parametrize("row", rows("tunings.tsv"), ids=lambda row: row["id"])
def test_open_strings_sound_as_the_table_says(row: dict[str, str]) -> None:
    """The open strings of tunings.tsv (common practice; MIDI numbers computed there)."""
    own = instrument(row["id"])
    midi = [int(number) for number in row["midi"].split()]
    assert [own.sounding(string, 0) for string in range(len(midi))] == midi


def test_guitar_strings_have_the_published_frequencies() -> None:
    """Open strings in hertz from published-values.tsv (computed from A4 = 440 Hz, ISO 16)."""
    value = next(
        row["value"] for row in rows("published-values.tsv") if row["fact"].startswith("guitar EAD")
    )
    hertz = [string.open.frequency() for string in instrument("guitar").strings]
    assert hertz == pytest.approx([float(number) for number in value.split()], abs=5e-5)


def test_the_first_fret_lies_one_part_in_17_8172_from_the_nut() -> None:
    """The twelfth-root rule: 1 / (1 - 2^(-1/12)) = 17.8172 (published-values.tsv, computed)."""
    guitar = instrument("guitar")
    assert guitar.scale_mm / guitar.place_mm(0, 1) == pytest.approx(17.8172, abs=5e-5)


def test_the_twelfth_fret_halves_the_string() -> None:
    """On 650 mm the twelfth fret lies 325.00 mm from the nut (published-values.tsv, computed)."""
    own = Instrument.from_text("E2 A2 D3 G3 B3 E4", frets=22, scale_mm=650)
    assert own.place_mm(3, 12) == pytest.approx(325.0, abs=0.005)


@given(instruments(fanned=True), st.data())
def test_places_follow_the_definition(own: Instrument, data: st.DataObject) -> None:
    """Fret f of a string of length L aligned at a lies L(2^(-a/12) - 2^(-f/12)) along the neck."""
    string = data.draw(st.integers(0, len(own.strings) - 1))
    fret = data.draw(st.integers(0, own.frets))
    assert own.place_mm(string, fret) == pytest.approx(
        neck_of(own).place_mm(string, fret), abs=1e-9
    )


def test_fanned_scales_meet_at_the_aligned_fret() -> None:
    """Strings of different lengths lie level where the fan is aligned, and nowhere else."""
    strings = tuple(
        InstrumentString(Pitch.parse(text), scale_mm=scale_mm)
        for text, scale_mm in (("E2", 686.0), ("A2", 667.0), ("D3", 648.0))
    )
    fanned = Instrument(id="fanned", name="fanned", strings=strings, frets=12, align_fret=7)
    assert [fanned.place_mm(string, 7) for string in range(3)] == pytest.approx([0.0] * 3)
    assert fanned.place_mm(0, 9) > fanned.place_mm(1, 9) > fanned.place_mm(2, 9)
    assert fanned.place_mm(0, 5) < fanned.place_mm(1, 5) < fanned.place_mm(2, 5)
    assert fanned.scale_mm == 686.0


def test_a_short_string_sounds_open_at_its_first_fret() -> None:
    """The banjo's fifth string: open is written 0 and sounds G4, the lowest press is 6, A flat."""
    banjo = instrument("banjo")
    assert banjo.sounding(0, 0) == 67
    assert banjo.sounding(0, 6) == 68
    assert banjo.sounding(1, 6) == 56


def test_a_capo_raises_the_strings_below_it() -> None:
    """At the second fret: whole strings a tone up, the short one as it was and nearer."""
    banjo = instrument("banjo").with_capo(2)
    assert [banjo.sounding(string, 0) for string in range(5)] == [67, 52, 57, 61, 64]
    assert banjo.frets == 20
    assert banjo.capo == 2
    assert banjo.sounding(0, 4) == 68
    assert banjo.place_mm(1, 1) - banjo.place_mm(1, 0) == pytest.approx(
        instrument("banjo").place_mm(1, 3) - instrument("banjo").place_mm(1, 2)
    )


def test_a_capo_raises_whole_courses() -> None:
    """By as much as the course's first string; a short course above the capo stays as spelled."""
    courses = tuple(
        InstrumentString(Pitch.parse(text), 648.0, first_fret=first, doubles=map(Pitch.parse, more))
        for text, first, more in (("E2", 0, ["E3"]), ("G3", 0, ["G4", "G3"]), ("Bb4", 5, ["Bb4"]))
    )
    capoed = Instrument("courses", "courses", courses, 12).with_capo(2)
    assert [str(course.open) for course in capoed.strings] == ["F#2", "A3", "Bb4"]
    assert [" ".join(map(str, course.doubles)) for course in capoed.strings] == [
        "F#3",
        "A4 A3",
        "Bb4",
    ]


def test_a_capo_names_itself_in_the_id() -> None:
    """A grip under a capo is another grip, so its id says so."""
    assert instrument("guitar").with_capo(2).id == "guitar+capo2"


def test_a_capo_names_itself_for_readers() -> None:
    """Once, and where it sits on the whole neck, however many were put on."""
    six = Instrument.from_text("E2 A2 D3 G3 B3 E4")
    assert six.with_capo(2).name == "strings E2 A2 D3 G3 B3 E4, capo at 2"
    assert six.with_capo(2).with_capo(3).name == "strings E2 A2 D3 G3 B3 E4, capo at 5"
    assert six.with_capo(0) == six


def test_a_capo_leaves_a_fan_where_it_is() -> None:
    """Strings that meet at the seventh fret meet at the fifth above a capo at the second."""
    strings = tuple(
        InstrumentString(Pitch.parse(text), scale_mm=scale_mm)
        for text, scale_mm in (("E2", 686.0), ("A2", 667.0))
    )
    fanned = Instrument(id="fanned", name="fanned", strings=strings, frets=12, align_fret=7)
    capoed = fanned.with_capo(2)
    assert capoed.place_mm(0, 5) == pytest.approx(capoed.place_mm(1, 5))
    assert capoed.place_mm(0, 4) - capoed.place_mm(1, 4) == pytest.approx(
        fanned.place_mm(0, 6) - fanned.place_mm(1, 6)
    )


@pytest.mark.parametrize(
    ("frets", "expected"),
    [
        ((0, 0, 0, 0), "5 of them, one a string"),
        ((0, 0, 0, 0, 0, 0), "5 of them, one a string"),
        ((5, 0, 0, 0, 0), "-1, 0 or 6 to 22 on string 5"),
        ((1, 0, 0, 0, 0), "-1, 0 or 6 to 22 on string 5"),
        ((0, 0, 0, 23, 0), "-1, 0 or 1 to 22 on string 2"),
        ((0, 0, -2, 0, 0), "-1, 0 or 1 to 22 on string 3"),
    ],
)
def test_a_shape_of_another_instrument_is_refused(frets: tuple[int, ...], expected: str) -> None:
    """The banjo has five strings, 22 frets, and none below the sixth on its late string."""
    banjo = instrument("banjo")
    banjo.check_frets((6, 22, 1, 0, -1))
    banjo.check_frets((22, -1, -1, -1, 0))
    with pytest.raises(ConditionError) as caught:
        banjo.check_frets(frets)
    assert caught.value.name == "frets"
    assert caught.value.value == frets
    assert caught.value.expected == expected


@given(instruments(least_frets=8), st.integers(1, 3), st.integers(1, 3))
def test_two_capos_are_one_farther_up(own: Instrument, one: int, two: int) -> None:
    """Above a capo another counts from the first; pitches and lengths are those of the sum."""
    stacked, single = own.with_capo(one).with_capo(two), own.with_capo(one + two)
    assert (stacked.frets, stacked.capo, stacked.id) == (single.frets, single.capo, single.id)
    for string in range(len(own.strings)):
        assert stacked.sounding(string, 0) == single.sounding(string, 0)
        distance = stacked.place_mm(string, 2) - stacked.place_mm(string, 1)
        assert distance == pytest.approx(single.place_mm(string, 2) - single.place_mm(string, 1))


@pytest.mark.parametrize("capo", [-1, 22, 40])
def test_a_capo_off_the_neck_is_refused(capo: int) -> None:
    """A capo leaves at least one fret to press."""
    with pytest.raises(ConditionError) as caught:
        instrument("guitar").with_capo(capo)
    assert caught.value.name == "capo"
    assert caught.value.value == capo
    assert caught.value.expected == "a fret from 0 to 21"


def test_a_custom_instrument_is_read_from_text() -> None:
    """Pitches as strung, with the tuning as the id where none is given."""
    own = Instrument.from_text("E2 A2 D3 G3 C4 F4", frets=22, scale_mm=648)
    assert [str(string.open) for string in own.strings] == ["E2", "A2", "D3", "G3", "C4", "F4"]
    assert own.id == "E2.A2.D3.G3.C4.F4"
    assert own.name == "strings E2 A2 D3 G3 C4 F4"
    assert own.frets == 22
    assert own.scale_mm == 648
    assert Instrument.from_text("G4 C4", frets=12, scale_mm=345, id="mine").id == "mine"
    usual = Instrument.from_text("E2 A2")
    assert (usual.frets, usual.scale_mm) == (22, 648.0)


@pytest.mark.parametrize(
    ("text", "position"),
    [
        ("E2 A2 Q3", 6),
        ("E2 A", 4),
        ("x", 0),
        ("E2 A2x G3", 5),
        # The bad word stands in a good one before it, and there are two of it.
        ("A2 A", 4),
        ("E2 A2 A", 7),
        ("E2 Q Q", 3),
        ("", 0),
        ("  ", 2),
    ],
)
def test_an_unreadable_tuning_is_refused_at_its_place(text: str, position: int) -> None:
    """The error counts from the start of the whole text, not of the word that is wrong."""
    with pytest.raises(NotationError) as caught:
        Instrument.from_text(text, frets=22, scale_mm=648)
    assert caught.value.text == text
    assert caught.value.position == position
    assert caught.value.what == "tuning"
    assert caught.value.expected
    if not text.strip():
        assert caught.value.expected == "pitches such as 'E2 A2 D3'"


@pytest.mark.parametrize("frets", [0, -3, 1000])
def test_a_senseless_number_of_frets_is_refused(frets: int) -> None:
    """A fretted neck has frets, and no neck has a thousand."""
    with pytest.raises(ConditionError) as caught:
        Instrument.from_text("E2 A2", frets=frets, scale_mm=648)
    assert caught.value.name == "frets"


@pytest.mark.parametrize("scale_mm", [0.0, -648.0, float("nan"), float("inf")])
def test_a_senseless_length_is_refused(scale_mm: float) -> None:
    """A string has a positive length."""
    with pytest.raises(ConditionError) as caught:
        Instrument.from_text("E2 A2", frets=22, scale_mm=scale_mm)
    assert caught.value.name == "scale_mm"


def test_an_instrument_is_a_value() -> None:
    """Equal parts make equal instruments, which can be hashed, pickled and not changed."""
    guitar = instrument("guitar")
    assert guitar == instrument("guitar")
    assert hash(guitar) == hash(instrument("guitar"))
    assert pickle.loads(pickle.dumps(guitar)) == guitar
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        guitar.frets = 24  # type: ignore[misc]


def test_errors_of_instruments_are_the_library_s() -> None:
    """One root catches them all."""
    with pytest.raises(GripwrightError):
        Instrument.from_text("nonsense", frets=22, scale_mm=648)
