"""Where things lie in diagrams of the neck: on the plane, in their places, clear of each other."""

from itertools import pairwise

import attrs
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from gripwright import Chord, Voicing
from gripwright.neck.diagram import LABELS, Block, Line, Look, Picture, neck_picture
from gripwright.neck.diagram.keyboard import keyboards
from gripwright.neck.diagram.neck import GAP
from gripwright.neck.diagram.window import window_of
from tests.core.neck.diagram.drawn import BANJO, GUITAR, grip
from tests.core.neck.diagram.extents import crosses, extent, meetings, plane, tones, words
from tests.core.neck.diagram.test_svg import EVERY_DEGREE, voicings

SOME = settings(max_examples=20)

looks = st.builds(
    Look,
    label=st.sampled_from(sorted(set(LABELS) - {"finger"})),
    left_handed=st.booleans(),
    compact=st.booleans(),
)
LATE = Voicing(Chord.parse("C"), BANJO, (0, 2, 5, 3, 2), EVERY_DEGREE)
"""A grip whose diagram ends where a string starts."""

NOTHING: dict[str, object] = {"title": "", "subtitle": "", "remark": "", "frets": None}
FLAT = Voicing(Chord.parse("Cbm7b5"), GUITAR, (7, 8, 9, 7, 10, 0), EVERY_DEGREE)
"""A grip with long names, such as Ebb."""

GAPPED = Voicing(
    Chord.parse("C"),
    attrs.evolve(
        GUITAR,
        strings=tuple(
            attrs.evolve(string, first_fret=first)
            for string, first in zip(GUITAR.strings, (0, 3, 0, 0, 7, 0), strict=True)
        ),
    ),
    (3, -1, 2, 0, -1, 0),
    EVERY_DEGREE,
)
"""A grip on a neck of which some strings start late, with others on either side."""

texts = st.fixed_dictionaries(
    {
        "title": st.sampled_from([None, "", "F#m7b5 with a long name"]),
        "subtitle": st.sampled_from(["", "x-10-12-9-13-x"]),
        "remark": st.sampled_from(["", "adds b9 #11 b13, no 5"]),
        "frets": st.sampled_from([None, 6]),
    }
)


def upright(picture: Picture) -> list[Line]:
    """The strings."""
    return [mark for mark in picture.marks if isinstance(mark, Line) and mark.x1 == mark.x2]


def level(picture: Picture) -> list[Line]:
    """The frets, the nut, and the nuts of short strings."""
    return [mark for mark in picture.marks if isinstance(mark, Line) and mark.y1 == mark.y2]


def places(picture: Picture, voicing: Voicing, look: Look) -> list[float]:
    """Where each string stands: a gap apart, counted from the last, which is always drawn."""
    across = [line.x1 for line in upright(picture)]
    from_last = [GAP * (len(voicing.frets) - 1 - n) for n in range(len(voicing.frets))]
    if look.left_handed:
        return [min(across) + way for way in from_last]
    return [max(across) - way for way in from_last]


def rows(picture: Picture) -> tuple[float, float]:
    """The line above the first fret, and the last line."""
    return min(line.y1 for line in upright(picture)), max(line.y2 for line in upright(picture))


def above(look: Look) -> float:
    """How far above a string's start its sign lies: clear of the nut, closer in a low picture."""
    return 10.5 if look.compact else 12.0


@SOME
@given(voicing=voicings(), look=looks, said=texts)
@example(voicing=FLAT, look=Look(label="note"), said=NOTHING)
@example(voicing=FLAT, look=Look(label="degree"), said=NOTHING)
def test_nothing_is_cut_off_and_nothing_written_over(
    voicing: Voicing, look: Look, said: dict[str, object]
) -> None:
    """Every mark lies on the plane; dots, and texts among themselves, keep clear of each other."""
    picture = neck_picture(voicing, look, **said)  # type: ignore[arg-type]
    assert all(plane(picture).holds(extent(mark)) for mark in picture.marks)
    assert meetings(tones(picture)) == []
    assert meetings(words(picture)) == []


@SOME
@given(voicing=voicings(), look=looks, said=texts)
@example(voicing=FLAT, look=Look(label="note"), said=NOTHING)
@example(voicing=FLAT, look=Look(label="degree"), said=NOTHING)
def test_labels_lie_on_their_dots_and_other_texts_beside_them(
    voicing: Voicing, look: Look, said: dict[str, object]
) -> None:
    """Each text lies on one dot or on none, and none crosses the edge of one."""
    picture = neck_picture(voicing, look, **said)  # type: ignore[arg-type]
    dots = tones(picture)
    labels = 0
    for text in words(picture):
        under = [dot for dot in dots if extent(dot).meets(extent(text))]
        if under:
            (dot,) = under
            labels += 1
            assert (text.x, text.y) == (dot.x, dot.y)
            ring = dot.fill == look.theme.page
            # A ring's label keeps clear of its outline.
            assert extent(dot).left + 2 * ring <= extent(text).left + 1e-6
            assert text.bold
            square = isinstance(dot, Block)
            paint = look.theme.root if square else look.theme.tone
            assert text.colour == (look.theme.ink if ring else paint.text)
    assert labels == (len(dots) if look.label != "none" else 0)


@SOME
@given(voicing=voicings(), look=looks, least=st.sampled_from([None, 6]))
@example(voicing=LATE, look=Look(), least=None)
@example(voicing=GAPPED, look=Look(), least=None)
@example(voicing=GAPPED, look=Look(left_handed=True), least=9)
def test_each_tone_lies_on_its_string_between_its_frets(
    voicing: Voicing, look: Look, least: int | None
) -> None:
    """Strings stand at equal distances, the bass side left or, for a left hand, right."""
    picture = neck_picture(voicing, look, frets=least, title="")
    window = window_of(voicing, least)
    top, end = rows(picture)
    fret = (end - top) / window.count
    signs = iter(tones(picture))
    strokes = iter(crosses(picture))
    degrees = iter(voicing.degrees)
    for string, (across, held) in enumerate(
        zip(places(picture, voicing, look), voicing.frets, strict=True)
    ):
        first = voicing.instrument.strings[string].first_fret
        start = top + fret * max(0, first - window.first + 1) if first < window.frets[-1] else top
        if held >= 0:
            root = next(degrees).pitch_class == 0
        if held < 0:
            for stroke in (next(strokes), next(strokes)):
                assert extent(stroke).middle == pytest.approx((across, start - above(look)))
        elif held == 0:
            ring = next(signs)
            assert (ring.x, ring.y) == pytest.approx((across, start - above(look)))
            assert (ring.fill, ring.edge) == (look.theme.page, look.theme.ink)
            assert isinstance(ring, Block) == root
        else:
            dot = next(signs)
            place = top + fret * (held - window.first + 0.5)
            assert (dot.x, dot.y) == pytest.approx((across, place))
            assert (
                place - fret / 2 < extent(dot).top + 1 < extent(dot).bottom - 1 < place + fret / 2
            )
            paint = look.theme.root if root else look.theme.tone
            assert (dot.fill, dot.edge) == (paint.fill, paint.edge)
            assert isinstance(dot, Block) == root
    assert next(signs, None) is None
    assert next(strokes, None) is None


@SOME
@given(voicing=voicings(), look=looks, least=st.sampled_from([None, 6]))
@example(voicing=LATE, look=Look(), least=None)
@example(voicing=GAPPED, look=Look(), least=None)
@example(voicing=GAPPED, look=Look(left_handed=True), least=9)
def test_frets_and_nuts_cross_the_strings_that_reach_them(
    voicing: Voicing, look: Look, least: int | None
) -> None:
    """A line for each fret over neighbouring strings; the nut is heavy, and so is a short one."""
    picture = neck_picture(voicing, look, frets=least)
    window = window_of(voicing, least)
    top, end = rows(picture)
    fret = (end - top) / window.count
    across = places(picture, voicing, look)
    firsts = [string.first_fret for string in voicing.instrument.strings]
    covered: set[tuple[int, int]] = set()
    short = []
    for line in level(picture):
        if line.width == 3.0:
            short.append(line)
            continue
        heavy = line.width == 4.0
        number = round((line.y1 - top + heavy) / fret) + window.first - 1
        assert line.y1 == pytest.approx(top + fret * (number - window.first + 1) - heavy)
        assert heavy == (number == 0)
        assert line.colour == (look.theme.nut if heavy else look.theme.wire)
        low, high = sorted((line.x1, line.x2))
        for string, x in enumerate(across):
            if low <= x <= high:
                assert (string, number) not in covered
                covered.add((string, number))
    assert covered == {
        (string, number)
        for string, first in enumerate(firsts)
        for number in range(max(first, window.first - 1), window.frets[-1] + 1)
    }
    own = {
        (across[string], top + fret * (first - window.first + 1))
        for string, first in enumerate(firsts)
        if window.first <= first < window.frets[-1]
    }
    assert {((line.x1 + line.x2) / 2, line.y1) for line in short} == own
    assert all(line.colour == look.theme.nut for line in short)
    starts = {line.x1: line.y1 for line in upright(picture)}
    assert all(starts[x] == y for x, y in own)
    assert len(starts) == sum(first < window.frets[-1] for first in firsts)
    assert all(line.y2 == end and line.colour == look.theme.wire for line in upright(picture))


@pytest.mark.parametrize("compact", [False, True])
@pytest.mark.parametrize("left_handed", [False, True])
@pytest.mark.parametrize(
    ("symbol", "shape", "fret", "strings"),
    [("F", "1-3-3-2-1-1", 1, (0, 5)), ("Am7", "x-x-5-5-5-5", 5, (2, 5))],
)
def test_barre_lies_under_the_dots_of_its_strings(
    symbol: str,
    shape: str,
    fret: int,
    strings: tuple[int, int],
    *,
    left_handed: bool,
    compact: bool,
) -> None:
    """From the outer edge of the first dot to that of the last, at their height, behind them."""
    voicing = grip(symbol, shape)
    look = Look(label="none", left_handed=left_handed, compact=compact)
    picture = neck_picture(voicing, look, title="")
    (bar,) = [
        mark for mark in picture.marks if isinstance(mark, Block) and mark.width != mark.height
    ]
    held = [
        (dot.x, dot.y)
        for dot, pressed in zip(
            tones(picture), [one for one in voicing.frets if one >= 0], strict=True
        )
        if pressed == fret
    ]
    assert {y for _, y in held} == {bar.y}
    across = places(picture, voicing, look)
    ends = sorted(across[string] for string in strings)
    painted = extent(bar)
    assert ends[0] - GAP / 2 < painted.left < ends[0]
    assert ends[1] < painted.right < ends[1] + GAP / 2
    assert ends[0] - painted.left == pytest.approx(painted.right - ends[1])
    assert all(picture.marks.index(bar) < picture.marks.index(dot) for dot in tones(picture))
    assert (bar.fill, bar.edge) == (look.theme.barre, look.theme.barre)


@SOME
@given(voicing=voicings(), look=looks, said=texts)
@example(voicing=FLAT, look=Look(label="note"), said=NOTHING)
@example(voicing=FLAT, look=Look(label="degree"), said=NOTHING)
def test_texts_stand_where_they_are_looked_for(
    voicing: Voicing, look: Look, said: dict[str, object]
) -> None:
    """Title, subtitle, signs, neck, tones under their strings, remark: from the top down."""
    picture = neck_picture(voicing, look, **said)  # type: ignore[arg-type]
    top, end = rows(picture)
    across = places(picture, voicing, look)
    middle = pytest.approx((across[0] + across[-1]) / 2)
    heads = [text for text in words(picture) if text.x == middle and extent(text).bottom < top - 18]
    title = voicing.chord.symbol if said["title"] is None else said["title"]
    told = [text for text in (title, said["subtitle"]) if text]
    assert [text.text for text in heads] == told
    assert [text.bold for text in heads] == [bool(title)] * bool(title) + [False] * (
        len(told) - bool(title)
    )
    assert [text.colour for text in heads[bool(title) :]] == [look.theme.faint] * bool(
        said["subtitle"]
    )
    assert {text.colour for text in heads[: bool(title)]} <= {look.theme.ink}
    highest = min(extent(mark).top for mark in (*tones(picture), *crosses(picture)))
    assert all(extent(text).bottom <= highest for text in heads)
    assert all(high.y < low.y for high, low in pairwise(heads))
    below = [text for text in words(picture) if text.y > end]
    expected = [] if look.compact else [tuple(map(str, voicing.pitches))]
    if not look.compact and look.label != "degree":
        expected.insert(0, tuple(voicing.degrees))
    sounding = [x for x, fret in zip(across, voicing.frets, strict=True) if fret >= 0]
    for row in expected:
        line, below = below[: len(row)], below[len(row) :]
        assert [text.text for text in line] == list(row)
        assert [text.x for text in line] == sounding
        assert len({(text.y, text.size) for text in line}) == 1
        assert all(extent(text).right - extent(text).left < GAP - 1 for text in line)
        assert {text.colour for text in line} == {look.theme.ink}
    assert [text.text for text in below] == [said["remark"]] * bool(said["remark"])
    assert all(text.x == middle and text.colour == look.theme.faint for text in below)


@SOME
@given(voicing=voicings(), look=looks)
def test_first_fret_is_numbered_beside_it_on_the_bass_side(voicing: Voicing, look: Look) -> None:
    """The number is larger where the picture is low, and none stands beside the nut."""
    picture = neck_picture(voicing, look, title="")
    window = window_of(voicing)
    top, end = rows(picture)
    across = places(picture, voicing, look)
    beside = [
        text
        for text in words(picture)
        if text.anchor != "middle" and (text.x - across[0]) * (1 if look.left_handed else -1) > 0
    ]
    assert [text.text for text in words(picture) if text.anchor != "middle"] == (
        [] if window.at_nut else [str(window.first)]
    )
    for number in beside:
        assert number.y == pytest.approx(top + (end - top) / window.count / 2)
        assert number.size == (16 if look.compact else 11)
        assert (number.bold, number.colour) == (True, look.theme.ink)
    assert len(beside) == (not window.at_nut)


@SOME
@given(voicing=voicings(), look=looks)
def test_piano_stands_beside_the_neck_in_the_middle_of_the_picture(
    voicing: Voicing, look: Look
) -> None:
    """The neck is where it was; what is added lies to its right, on a plane that has grown."""
    alone = neck_picture(voicing, look)
    both = neck_picture(voicing, attrs.evolve(look, keyboard=True))
    assert both.marks[: len(alone.marks)] == alone.marks
    piano = both.marks[len(alone.marks) :]
    assert all(plane(both).holds(extent(mark)) for mark in both.marks)
    assert all(extent(mark).left > alone.width for mark in piano)
    drawn = keyboards(voicing, look.label, look.theme)
    right, down = alone.width + 14, max(0.0, (alone.height - drawn.height) / 2)
    assert list(piano) == list(drawn.moved(right, down).marks)
    assert (both.width, both.height) == (right + drawn.width, max(alone.height, drawn.height))
    assert both.description == f"{alone.description} {drawn.description}"
    keys = [extent(mark) for mark in piano if isinstance(mark, Block)]
    assert min(key.left for key in keys) > alone.width
    assert both.title == alone.title


def test_strings_of_a_course_stand_beside_one_another() -> None:
    """A pair lies around the place of a single string, closer than the next one."""
    single = neck_picture(grip("C", "x-3-2-0-1-0"), Look())
    strings = tuple(attrs.evolve(one, doubles=(one.open,)) for one in GUITAR.strings)
    paired = attrs.evolve(
        grip("C", "x-3-2-0-1-0"), instrument=attrs.evolve(GUITAR, strings=strings)
    )
    pairs = [line.x1 for line in upright(neck_picture(paired, Look()))]
    assert [line.x1 for line in upright(single)] == pytest.approx(
        [(low + high) / 2 for low, high in zip(pairs[::2], pairs[1::2], strict=True)]
    )
    assert {round(high - low, 1) for low, high in zip(pairs[::2], pairs[1::2], strict=True)} == {
        2.2
    }


def test_title_is_the_largest_text_and_a_remark_the_smallest() -> None:
    """The chord is read from afar; what it lacks, from near."""
    said = {"subtitle": "x-3-2-0-1-0", "remark": "adds b9 #11 b13, no 5"}
    picture = neck_picture(grip("C", "x-3-2-0-1-0"), Look(), **said)  # type: ignore[arg-type]
    title, subtitle, *others, remark = words(picture)
    assert title.size > 1.2 * max(text.size for text in (subtitle, *others, remark))
    assert min(text.size for text in (subtitle, *others)) >= 5
    assert 7 < subtitle.size < 12
    assert 7 < remark.size < 12


@pytest.mark.parametrize("compact", [False, True])
def test_low_picture_keeps_no_room_for_what_it_does_not_show(*, compact: bool) -> None:
    """Under the last line nothing stands, and beside the nut no number."""
    look = Look(compact=compact)
    low, high = (
        neck_picture(grip(symbol, shape), look, title="")
        for symbol, shape in (("C", "x-3-2-0-1-0"), ("Cmaj7", "x-3-5-4-5-x"))
    )
    assert (low.width < high.width) == compact
    spare = low.height - max(extent(mark).bottom for mark in low.marks)
    assert 0 <= spare < 6
