"""What stands in a MIDI file, looked at byte by byte and message by message.

Names and limits are those of the Standard MIDI Files 1.0 specification (RP-001) and of General
MIDI 1 (MIDI Manufacturers Association), from memory.
"""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction
from io import BytesIO

import attrs
import mido
import pytest

from gripwright import (
    Chord,
    ChordChange,
    Chorus,
    ClickEvent,
    ConditionError,
    Instrument,
    InstrumentString,
    Meter,
    NoteEvent,
    Pitch,
    Score,
    ScoreBar,
    Voicing,
)
from gripwright.score.sample import sample_score
from gripwright.tune.key import Key
from gripwright_rhythm.export.midi import MidiExporter
from gripwright_rhythm.export.midi_reader import read_midi
from gripwright_rhythm.export.midi_track import LONGEST_DELTA
from tests.rhythm.export.scores import INSTRUMENTS, chord, drill, one_bar, voicings

ONE = Fraction(1)


def tracks(score: Score, **settings: object) -> dict[str, list[tuple[int, mido.Message]]]:
    """Return the messages of each track by its name, with their ticks; the first is ``""``."""
    data = MidiExporter(**settings).export(score)  # type: ignore[arg-type]
    found = {}
    for number, track in enumerate(mido.MidiFile(file=BytesIO(data), charset="utf-8").tracks):
        tick = 0
        timed = []
        for message in track:
            tick += message.time
            timed.append((tick, message))
        found[track.name if number else ""] = timed
    return found


def metas(score: Score, kind: str) -> list[tuple[int, mido.MetaMessage]]:
    """Return the events of a kind in the first track."""
    return [(tick, one) for tick, one in tracks(score)[""] if one.type == kind]


def sounding(score: Score, **settings: object) -> list[tuple[int, int, int]]:
    """Return pitch, attack and release of every note of the chords."""
    notes = read_midi(MidiExporter(**settings).export(score)).notes  # type: ignore[arg-type]
    return [(one.pitch, one.onset_tick, one.end_tick) for one in notes if one.channel == 1]


def test_a_file_starts_as_the_specification_says() -> None:
    """SMF 1.0: chunk MThd of 6 bytes, format 1, the number of tracks, 960 ticks a quarter."""
    data = MidiExporter().export(sample_score())
    assert data[:8] == b"MThd\x00\x00\x00\x06"
    assert data[8:14] == bytes([0, 1, 0, 3, 960 >> 8, 960 & 255])
    assert data.count(b"MTrk") == 3
    assert data.endswith(b"\xff\x2f\x00")


def test_the_first_track_holds_no_note_and_the_others_only_what_has_events() -> None:
    """SMF 1.0 puts the tempo map into the first track of a file of format 1."""
    found = tracks(sample_score())
    assert list(found) == ["", "clicks", "chords"]
    assert all(one.is_meta for _, one in found[""])


def test_the_title_is_the_name_of_the_first_track() -> None:
    """SMF 1.0: the name of the first track is that of the sequence."""
    assert [one.name for _, one in metas(sample_score(), "track_name")] == ["Sample"]
    assert metas(attrs.evolve(sample_score(), title=None), "track_name") == []


def test_a_title_beyond_ascii_is_utf8() -> None:
    """The bytes of the file are those of UTF-8."""
    data = MidiExporter().export(attrs.evolve(sample_score(), title="Étude 練習"))
    assert "Étude 練習".encode() in data


def test_a_title_that_is_no_unicode_is_refused() -> None:
    """A lone surrogate has no bytes in UTF-8."""
    with pytest.raises(ConditionError, match="surrogates"):
        MidiExporter().export(attrs.evolve(sample_score(), title="\ud800"))


def test_every_event_of_the_sample() -> None:
    """A bar of count-in, then Dm7 for four quarters and G7 for one, as the score has them."""
    assert sounding(sample_score()) == [
        *((pitch, 3840, 7680) for pitch in (50, 57, 60, 65)),
        *((pitch, 7680, 8640) for pitch in (43, 53, 59, 62)),
    ]


def test_clicks_sound_on_channel_ten_and_the_first_of_a_bar_is_higher_and_louder() -> None:
    """General MIDI 1: channel 10 is percussion, 76 the high wood block, 77 the low one."""
    notes = [
        one for one in read_midi(MidiExporter().export(sample_score())).notes if one.track == 1
    ]
    assert {one.channel for one in notes} == {10}
    assert [one.pitch for one in notes] == [76, 77, 77, 77] * 3
    assert [one.onset_tick for one in notes] == list(range(0, 12 * 960, 960))
    accented, plain = notes[0].velocity, notes[1].velocity
    assert accented > plain


def test_the_velocity_is_the_dynamic_and_an_accent_is_heard() -> None:
    """A drill makes an accented attack louder, and the file says so."""
    notes = read_midi(MidiExporter().export(drill("| C |", "1 3!", count_in=0))).notes
    loudness = {one.onset_tick: one.velocity for one in notes if one.channel == 1}
    assert loudness[1920] > loudness[0] == 80


def test_tempo_metre_key_and_markers_stand_where_they_change() -> None:
    """One of each where it starts to hold, and none where it goes on."""
    bars = [
        ScoreBar(0, Fraction(-3), Meter(6, 8), Fraction(3), 0),
        ScoreBar(1, Fraction(0), Meter(6, 8), Fraction(3), 1, "A"),
        ScoreBar(2, Fraction(3), Meter(3, 4), Fraction(3), 1),
        ScoreBar(3, Fraction(6), Meter(5, 4, (3, 2)), Fraction(5), 2, "A"),
        ScoreBar(4, Fraction(11), Meter(5, 4, (2, 3)), Fraction(5), 2, ending=True),
    ]
    choruses = [
        Chorus(0, Fraction(-3), Fraction(0), Fraction(60)),
        Chorus(1, Fraction(0), Fraction(6), Fraction(60), key=Key.parse("Bb")),
        Chorus(2, Fraction(6), Fraction(16), Fraction(70), key=Key.parse("F#m")),
    ]
    score = one_bar(bars=bars, choruses=choruses)
    # Sixty dotted quarters a minute, then sixty quarters, then seventy.
    tempos = [(tick, one.tempo) for tick, one in metas(score, "set_tempo")]
    assert tempos == [(0, 666_667), (5760, 1_000_000), (8640, 857_143)]
    signatures = [
        (tick, one.numerator, one.denominator, one.clocks_per_click)
        for tick, one in metas(score, "time_signature")
    ]
    assert signatures == [(0, 6, 8, 36), (5760, 3, 4, 24), (8640, 5, 4, 24)]
    keys = [(tick, one.key) for tick, one in metas(score, "key_signature")]
    assert keys == [(2880, "Bb"), (8640, "F#m")]
    assert [(tick, one.text) for tick, one in metas(score, "marker")] == [
        (0, "count-in"),
        (2880, "chorus 1"),
        (2880, "A"),
        (8640, "chorus 2"),
        (8640, "A"),
        (13440, "ending"),
    ]
    texts = [(tick, one.text) for tick, one in metas(score, "text")]
    assert texts == [(8640, "metre 3+2/4"), (13440, "metre 2+3/4")]


@pytest.mark.parametrize("fifths", range(-7, 8))
@pytest.mark.parametrize("minor", [False, True])
def test_every_key_has_its_signature(fifths: int, *, minor: bool) -> None:
    """SMF 1.0: FF 59 02, the sharps or minus the flats as a signed byte, 0 major or 1 minor."""
    around = ["Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"]
    around += ["G#", "D#", "A#"]
    key = Key.parse(f"{around[fifths + 10]}m" if minor else around[fifths + 7])
    score = one_bar(choruses=[Chorus(1, Fraction(0), Fraction(4), Fraction(60), key=key)])
    event = b"\xff\x59\x02" + fifths.to_bytes(1, "big", signed=True) + bytes([minor])
    assert event in MidiExporter().export(score)


@pytest.mark.parametrize(
    ("metre", "length", "signature"),
    [
        ("4/4", "1", (1, 4)),
        ("4/4", "2", (2, 4)),
        ("4/4", "3/2", (3, 8)),
        ("6/8", "1/2", (1, 8)),
        ("2/2", "2", (1, 2)),
        ("2/2", "1", (1, 4)),
        ("3/4", "1/16", (1, 64)),
    ],
)
def test_a_pickup_is_a_short_bar(metre: str, length: str, signature: tuple[int, int]) -> None:
    """Its signature counts the metre's unit, or a half of it as often as needed."""
    bar = ScoreBar(1, Fraction(0), Meter.parse(metre), Fraction(length), 1, lead_in=ONE)
    (_, one), *_ = metas(one_bar(bars=[bar]), "time_signature")
    assert (one.numerator, one.denominator) == signature


@pytest.mark.parametrize("length", ["1/3", "2/7", "1/1024"])
def test_a_bar_that_no_signature_says_is_refused(length: str) -> None:
    """SMF 1.0 gives the denominator as a power of two."""
    bar = ScoreBar(1, Fraction(0), Meter(), Fraction(length), 1)
    with pytest.raises(ConditionError, match="length of bar 1"):
        MidiExporter().export(one_bar(bars=[bar]))


@pytest.mark.parametrize(("tempo", "fits"), [("3.577", True), ("3.576", False), ("1e9", False)])
def test_a_tempo_outside_24_bits_is_refused(tempo: str, *, fits: bool) -> None:
    """SMF 1.0: FF 51 03 and microseconds a quarter in three bytes: 16,777,215 at most."""
    score = one_bar(choruses=[Chorus(1, Fraction(0), Fraction(4), Fraction(tempo))])
    if fits:
        MidiExporter().export(score)
    else:
        with pytest.raises(ConditionError, match="tempo in bar 1"):
            MidiExporter().export(score)


def test_a_rest_longer_than_a_delta_is_refused() -> None:
    """SMF 1.0: a delta time has at most four bytes of seven bits."""
    bars = 1 + LONGEST_DELTA // 960 // 256
    own = Meter(64, 1)
    long = [ScoreBar(n + 1, Fraction(256 * n), own, Fraction(256), 1) for n in range(bars)]
    MidiExporter().export(one_bar(bars=long[:-1]))
    with pytest.raises(ConditionError, match="rest cannot be '268,"):
        MidiExporter().export(one_bar(bars=long))


@pytest.mark.parametrize(("tuning", "pitch"), [("G9", 128), ("C-1", -1)])
def test_a_pitch_outside_midi_is_refused(tuning: str, pitch: int) -> None:
    """A note has seven bits."""
    note = NoteEvent(Fraction(0), ONE, Pitch.from_midi(pitch), 1, ONE, 80)
    with pytest.raises(ConditionError, match=f"pitch cannot be {pitch}"):
        MidiExporter().export(one_bar(bass=[note]))
    own = Instrument("own", "own", (InstrumentString(Pitch.parse(tuning), 600.0),), 12)
    if pitch > 127:
        fifth = Chord.parse("G#5")
        event = attrs.evolve(chord(0, 1), voicing=Voicing(fifth, own, (1,)))
        with pytest.raises(ConditionError, match="pitch cannot be 128"):
            MidiExporter().export(one_bar([event], instrument=own))


def test_a_pitch_attacked_again_is_released_first() -> None:
    """At one tick the release stands before the attack, so that neither cuts the other."""
    score = one_bar([chord(0, 1), chord(1, 2)])
    messages = tracks(score)["chords"]
    kinds = [one.type for tick, one in messages if tick == 960 and not one.is_meta]
    assert kinds == ["note_off"] * 4 + ["note_on"] * 4
    assert sounding(score) == [
        (pitch, on, on + 960) for on in (0, 960) for pitch in (48, 55, 59, 64)
    ]


def test_a_chord_that_rings_over_another_sounds_to_its_own_end() -> None:
    """A shared pitch is attacked again and held until both are over; the others are left alone."""
    cmaj7, em = voicings("guitar")[0], voicings("guitar")[3]
    assert set(cmaj7.midi) & set(em.midi) == {55, 59, 64}
    score = one_bar([chord(0, 4), chord(1, 2, 3)])
    assert sorted(sounding(score)) == sorted(
        [
            (48, 0, 3840),
            *((pitch, 0, 960) for pitch in (55, 59, 64)),
            *((pitch, 960, 1920) for pitch in (40, 47, 52)),
            *((pitch, 960, 3840) for pitch in (55, 59, 64)),
        ]
    )


def test_a_pitch_on_two_strings_is_one_note() -> None:
    """A channel sounds each pitch once."""
    own = Instrument.from_text("E4 E4", id="unison")
    voicing = Voicing(Chord.parse("E5"), own, (0, 0))
    event = attrs.evolve(chord(0, 1), voicing=voicing)
    assert sounding(one_bar([event], instrument=own)) == [(64, 0, 960)]


def test_courses_sound_their_doubles_unless_asked_not_to() -> None:
    """The octave strings of a twelve-string guitar sound an octave above."""
    own = INSTRUMENTS["twelve-string"]
    event = attrs.evolve(chord(0, 1), voicing=voicings("twelve-string")[0])
    score = one_bar([event], instrument=own)
    plain = {pitch for pitch, _, _ in sounding(score, doubles=False)}
    assert plain == {40, 47, 52, 55, 59, 64}
    assert {pitch for pitch, _, _ in sounding(score)} == plain | {52, 59, 64, 67}


def test_a_time_between_two_ticks_goes_to_the_nearer_one() -> None:
    """A seventh of a quarter is 137.14 ticks; half a tick goes up; nothing lasts no tick."""
    seventh = one_bar([chord("1/7", "2/7")])
    assert {(on, off) for _, on, off in sounding(seventh)} == {(137, 274)}
    half = one_bar([chord(0, "1/1920")])
    assert {(on, off) for _, on, off in sounding(half)} == {(0, 1)}
    nothing = one_bar([chord("1/1000000", "2/1000000")])
    assert {(on, off) for _, on, off in sounding(nothing)} == {(0, 1)}


@pytest.mark.parametrize(
    ("stroke", "anchor", "ticks"),
    [
        ("down", "first", [1920, 1930, 1939, 1949]),
        ("up", "first", [1949, 1939, 1930, 1920]),
        ("down", "last", [1891, 1901, 1910, 1920]),
        ("up", "last", [1920, 1910, 1901, 1891]),
        ("pluck", "first", [1920] * 4),
    ],
)
def test_a_strum_is_spread_from_string_to_string(
    stroke: str, anchor: str, ticks: list[int]
) -> None:
    """Thirty milliseconds are 28.8 ticks at 60; the release stays where the score says."""
    event = chord(2, 3, stroke=stroke)
    notes = sorted(sounding(one_bar([event]), strum_ms=30, strum_anchor=anchor))
    assert [on for _, on, _ in notes] == ticks
    assert {off for _, _, off in notes} == {2880}


def test_a_strum_is_never_wider_than_its_place() -> None:
    """Half of a short chord sounds whole; before the first chord there is no room."""
    short = one_bar([chord(0, "1/10")])
    assert max(on for _, on, _ in sounding(short, strum_ms=500)) == 48
    assert {on for _, on, _ in sounding(short, strum_ms=500, strum_anchor="last")} == {0}


@pytest.mark.parametrize(
    ("name", "program"), [("guitar", 27), ("banjo", 106), ("ukulele", 25), ("bass-five", 34)]
)
def test_the_program_goes_by_the_instrument(name: str, program: int) -> None:
    """General MIDI 1 lists 27 electric guitar (jazz), 106 banjo, 25 nylon, 34 finger bass."""
    own = INSTRUMENTS[name]
    voicing = Voicing(Chord.parse("E5"), own, (0,) + (-1,) * (len(own.strings) - 1))
    score = one_bar([attrs.evolve(chord(0, 1), voicing=voicing)], instrument=own)
    chosen = [one.program for _, one in tracks(score)["chords"] if one.type == "program_change"]
    assert chosen == [program - 1]
    asked = tracks(score, program=1)["chords"]
    assert [one.program for _, one in asked if one.type == "program_change"] == [0]


def test_the_chart_s_chords_stand_as_texts_beside_the_notes() -> None:
    """A sequencer shows what is being played."""
    found = [
        (tick, one.text) for tick, one in tracks(sample_score())["chords"] if one.type == "text"
    ]
    assert found == [(3840, "Dm7"), (7680, "G7")]
    silent = [ChordChange(Fraction(0), Fraction(4), None)]
    score = one_bar([chord(0, 1)], changes=silent)
    assert [one.text for _, one in tracks(score)["chords"] if one.type == "text"] == ["N.C."]


def test_every_track_ends_with_the_score() -> None:
    """A player shows the whole length, rests and all."""
    score = attrs.evolve(sample_score(), clicks=[ClickEvent(Fraction(0), 1, ONE)])
    ends = [messages[-1] for messages in tracks(score).values()]
    assert [(tick, one.type) for tick, one in ends] == [(12 * 960, "end_of_track")] * 3


@pytest.mark.parametrize(
    "settings",
    [
        {"strum_ms": -1},
        {"strum_ms": 501},
        {"strum_ms": float("nan")},
        {"strum_anchor": "middle"},
        {"program": 0},
        {"program": 129},
    ],
)
def test_settings_out_of_range_are_refused(settings: dict[str, object]) -> None:
    """By name."""
    with pytest.raises(ConditionError, match=next(iter(settings))):
        MidiExporter(**settings)  # type: ignore[arg-type]


def test_loading_the_exporters_loads_no_mido() -> None:
    """Plugins are listed without what their formats need."""
    code = (
        "import sys, gripwright_rhythm.export.midi, gripwright_rhythm.export.csv_events,"
        " gripwright_rhythm.export.tablature; print([m for m in ('mido', 'numpy') if m in"
        " sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
