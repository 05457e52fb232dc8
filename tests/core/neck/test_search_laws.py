"""Laws of the search, above all that it finds exactly what the literal enumerator finds."""

import attrs
import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from gripwright import Chord, Hand, Instrument, InstrumentString, Pitch, VoicingTable, find_voicings
from gripwright.laws.drawing import chords, hands, instruments
from gripwright.theory import Interval
from tests.core.neck.enumerator import neck_of, presses, reach_mm, voicings
from tests.core.neck.reference import instrument
from tests.core.neck.searches import NARROWING, Search, condition, cut_short, searches

SEMITONE = Interval.parse("m2")


def shapes(table: VoicingTable) -> list[tuple[int, ...]]:
    """Return the frets of a table, row by row."""
    return [tuple(row) for row in table.frets.tolist()]


def expected(search: Search) -> list[tuple[int, ...]]:
    """Return what the enumerator finds for the same search."""
    return voicings(
        search.tones,
        search.neck,
        fingers=search.hand.fingers,
        reach=search.hand.reach_mm,
        limits=search.limits,
    )


def note_size(rows: int) -> None:
    """Let Hypothesis' statistics show how often a search came up empty."""
    event("rows: none" if rows == 0 else f"rows: below {10 ** len(str(rows))}")


@given(searches())
def test_the_search_finds_what_the_enumerator_finds(search: Search) -> None:
    """The set is the same, no more and no less, and so is its order."""
    rows = shapes(search.find())
    note_size(len(rows))
    assert rows == expected(search)


@given(searches(bare=True))
def test_the_search_without_conditions_finds_what_the_enumerator_finds(search: Search) -> None:
    """The same, where no condition hides most of the rows."""
    rows = shapes(search.find())
    note_size(len(rows))
    assert rows == expected(search)


@pytest.mark.parametrize("name", NARROWING)
@given(data=st.data())
def test_each_condition_leaves_what_it_leaves_the_enumerator(
    name: str, data: st.DataObject
) -> None:
    """The same under each condition alone, so that none is drawn too seldom to matter."""
    search = data.draw(searches(under=name))
    rows = shapes(search.find())
    note_size(len(rows))
    assert rows == expected(search)


@given(searches(fanned=True))
def test_fanned_necks_are_measured_string_by_string(search: Search) -> None:
    """The same on necks where a fret lies at another place on each string."""
    assert shapes(search.find()) == expected(search)


@given(searches(slashed=True, bare=True))
def test_slash_basses_are_the_lowest_pitch(search: Search) -> None:
    """The same for chords over a bass, their own or foreign."""
    rows = shapes(search.find())
    note_size(len(rows))
    assert rows == expected(search)


def test_a_foreign_bass_sounds_at_the_lowest_pitch_alone() -> None:
    """C/D on two strings in unison: both may sound the low D, and no D may sound above it."""
    own = Instrument.from_text("D3 D3 G3 C4 E4", frets=12)
    rows = shapes(find_voicings(Chord.parse("C/D"), own))
    assert (0, 0, 0, 0, 0) in rows
    assert (0, -1, 0, 0, 0) in rows
    assert (0, -1, 0, 2, 0) not in rows
    assert (-1, -1, 0, 0, 0) not in rows


def test_a_foreign_bass_counts_as_a_tone() -> None:
    """C5/D has three tones, and by default three sound; C5/G has two, and two are enough."""
    own = Instrument.from_text("D3 G3 C4", frets=12)
    assert (0, 0, 0) in shapes(find_voicings(Chord.parse("C5/D"), own))
    assert (0, -1, 0) not in shapes(find_voicings(Chord.parse("C5/D"), own, min_tones=2))
    assert (-1, 0, 0) in shapes(find_voicings(Chord.parse("C5/G"), own))
    unison = Instrument.from_text("D3 D3 G3 C4", frets=12)
    assert all(
        len({pitch.midi % 12 for pitch in voicing.pitches}) == 3
        for voicing in find_voicings(Chord.parse("C5/D"), unison)
    )


@pytest.mark.parametrize("name", ["guitar", "ukulele", "banjo", "mandolin", "seven-string"])
@pytest.mark.parametrize("symbol", ["F", "Bbm7b5", "G7alt", "C/D", "A7/C#", "E5", "D13"])
def test_real_instruments_agree_with_the_enumerator(name: str, symbol: str) -> None:
    """The same on instruments that people own, with their necks cut short."""
    chord = Chord.parse(symbol)
    short = cut_short(instrument(name), chord)
    search = Search(chord=chord, instrument=short, hand=Hand(), conditions={})
    rows = shapes(search.find())
    assert rows == expected(search)
    assert rows


@given(searches(fanned=False, bare=True))
def test_up_a_fret_is_up_a_semitone(search: Search) -> None:
    """Moved up a fret, a voicing without open strings is one of the chord a semitone higher."""
    higher = find_voicings(search.chord.transposed(SEMITONE), search.instrument, hand=search.hand)
    degrees = {voicing.frets: voicing.degrees for voicing in higher}
    for voicing in search.find():
        if 0 in voicing.frets or max(voicing.frets) == search.instrument.frets:
            continue
        moved = tuple(fret + 1 if fret > 0 else fret for fret in voicing.frets)
        assert degrees[moved] == voicing.degrees


@given(searches(), st.integers(1, 80))
def test_longer_reach_loses_nothing(search: Search, more_mm: int) -> None:
    """Whatever a hand can hold, a hand with longer reach can hold."""
    longer = attrs.evolve(search.hand, reach_mm=search.hand.reach_mm + more_mm)
    assert set(shapes(search.find())) <= set(shapes(attrs.evolve(search, hand=longer).find()))


@given(searches())
def test_another_finger_loses_nothing(search: Search) -> None:
    """Whatever a hand can hold, a hand with one more finger can hold."""
    more = attrs.evolve(search.hand, fingers=min(search.hand.fingers + 1, 5))
    assert set(shapes(search.find())) <= set(shapes(attrs.evolve(search, hand=more).find()))


@given(chords(), instruments(least_frets=6), hands(), st.integers(1, 5))
def test_a_capo_is_a_retuned_and_shortened_neck(
    chord: Chord, whole: Instrument, hand: Hand, capo: int
) -> None:
    """A capo gives the neck that one would build: strings raised, frets fewer, lengths shrunk."""
    whole = cut_short(whole, chord)
    capo = min(capo, whole.frets - 1)
    neck = neck_of(whole).with_capo(capo)
    rebuilt = Instrument(
        id="rebuilt",
        name="rebuilt",
        strings=tuple(
            InstrumentString(Pitch.from_midi(midi), scale_mm=scale_mm, first_fret=first)
            for midi, scale_mm, first in zip(
                neck.opens, neck.scales_mm, neck.first_frets, strict=True
            )
        ),
        frets=neck.frets,
        align_fret=neck.align_fret,
    )
    under_capo = find_voicings(chord, whole.with_capo(capo), hand=hand)
    on_rebuilt = find_voicings(chord, rebuilt, hand=hand)
    assert shapes(under_capo) == shapes(on_rebuilt)
    assert shapes(under_capo) == voicings(
        tones=Search(chord, whole, hand, {}).tones,
        neck=neck,
        fingers=hand.fingers,
        reach=hand.reach_mm,
    )
    assert [voicing.pitches for voicing in under_capo[:50]] == [
        voicing.pitches for voicing in on_rebuilt[:50]
    ]


@given(searches(bare=True), st.data())
def test_a_condition_only_removes(search: Search, data: st.DataObject) -> None:
    """What stays under a condition stands in the same order as without it."""
    name = data.draw(st.sampled_from(NARROWING))
    value = data.draw(condition(name, search.chord, search.instrument))
    rows = shapes(search.find())
    narrowed = set(shapes(search.find(**{name: value})))
    assert narrowed <= set(rows)
    assert shapes(search.find(**{name: value})) == [row for row in rows if row in narrowed]


@given(searches(bare=True))
def test_as_written_keeps_all_where_no_recipe_adds(search: Search) -> None:
    """Without a strategy every voicing is of the chord as written already."""
    assert shapes(search.find(as_written=True)) == shapes(search.find())


@given(searches(), st.integers(-12, 12))
def test_the_second_string_of_a_course_does_not_count(search: Search, interval: int) -> None:
    """Doubles are heard, but they make no chord, no bass and no top."""
    courses = attrs.evolve(
        search.instrument,
        strings=tuple(
            attrs.evolve(string, doubles=(Pitch.from_midi(string.open.midi + interval),))
            for string in search.instrument.strings
        ),
    )
    doubled = attrs.evolve(search, instrument=courses)
    assert shapes(doubled.find()) == shapes(search.find())


@given(searches())
def test_a_search_repeats_itself(search: Search) -> None:
    """Equal requests give equal bytes."""
    assert search.find().frets.tobytes() == search.find().frets.tobytes()


@given(searches())
def test_rows_say_what_the_definitions_say(search: Search) -> None:
    """Each voicing tells the pitches, degrees, presses and reach that its frets have."""
    neck, names = search.neck, search.tones.names
    for voicing in search.find()[:100]:
        frets = voicing.frets
        pitches = [neck.sounding(i, fret) for i, fret in enumerate(frets) if fret >= 0]
        assert [pitch.midi for pitch in voicing.pitches] == pitches
        assert [
            str(degree)
            for degree, pitch in zip(voicing.degrees, pitches, strict=True)
            if pitch % 12 in names
        ] == [names[pitch % 12] for pitch in pitches if pitch % 12 in names]
        assert voicing.presses == len(presses(frets))
        assert voicing.reach_mm == pytest.approx(reach_mm(neck, frets), abs=0.051)
        assert voicing.shape == "-".join("x" if fret < 0 else str(fret) for fret in frets)
        assert voicing.id == f"{search.instrument.id}:{voicing.shape}"
        assert voicing.chord == search.chord
        assert voicing.instrument == search.instrument


@given(searches())
def test_pitches_are_spelled_as_the_chord_spells_them(search: Search) -> None:
    """A pitch bears the note that the chord has for its degree, or that of the foreign bass."""
    spelled = dict(zip(search.chord.degrees, search.chord.notes, strict=True))
    foreign = search.tones.foreign_bass
    for voicing in search.find()[:100]:
        for pitch, degree in zip(voicing.pitches, voicing.degrees, strict=True):
            if pitch.midi % 12 == foreign:
                assert pitch.note == search.chord.bass
            else:
                assert pitch.note == spelled[degree]


@given(searches())
def test_added_and_left_out_degrees_are_told(search: Search) -> None:
    """Nothing is added to a chord as written; left out is each degree whose tone is silent."""
    root = search.tones.root
    for voicing in search.find()[:100]:
        sounding = {pitch.midi % 12 for pitch in voicing.pitches}
        assert tuple(voicing.added) == ()
        assert set(voicing.left_out) == {
            degree
            for degree in search.chord.degrees
            if (root + degree.semitones) % 12 not in sounding
        }
