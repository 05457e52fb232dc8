"""What the plugin is for, as a player would look at it."""

import pytest
from cigar_box.exporter import ChordListError, ChordListExporter

from gripwright import Chord, Meter, find_voicings, load_registry
from gripwright.score.sample import sample_score

REGISTRY = load_registry(strict=True)
CIGAR_BOX = REGISTRY.instruments["cigar-box"]


def test_one_finger_moves_the_chord() -> None:
    """Open strings sound G5, and the third fret across all three B flat."""
    octave_power = REGISTRY.strategies["octave-power"]
    shapes = {
        symbol: [
            grip.shape
            for grip in find_voicings(Chord.parse(symbol), CIGAR_BOX, strategy=octave_power)
        ]
        for symbol in ("G5", "Bb5")
    }
    assert "0-0-0" in shapes["G5"]
    assert "3-3-3" in shapes["Bb5"]


def test_the_train_accents_the_back_beat() -> None:
    """Two and four are louder, in 4/4."""
    (train,) = REGISTRY.rhythm_families["train"].patterns(Meter(4, 4), seed=0)
    accented = [Meter(4, 4).beat_of(one.onset) for one in train.attacks if one.accent]
    assert accented == [2, 4]


def test_a_chord_list_has_a_line_for_each_chord() -> None:
    """And a broken line is told by its number."""
    data = REGISTRY.exporters["chord-list"].export(sample_score())
    assert data == b"0 Dm7 x-5-7-5-6-x\n4 G7 3-x-3-4-3-x\n"
    with pytest.raises(ChordListError, match="line 2"):
        ChordListExporter().read(b"0 C x-3-2-0-1-0\nwhat\n", CIGAR_BOX)


@pytest.mark.parametrize(
    ("data", "line"),
    [
        (b"1e999999999 C x-3-2-0-1-0\n", 1),
        (b"0 C x-3-2-0-1-0\n" + b"9" * 5000 + b" C 0-0-0\n", 2),
        (b"1/0 C 0-0-0\n", 1),
        (b"nan C 0-0-0\n", 1),
        (b"0 C\n", 1),
        (b"0 \xff\xfe 0-0-0\n", 1),
        (b"0 C 0-0-0\n" * 200_000, 0),
    ],
)
def test_what_is_read_is_bounded(data: bytes, line: int) -> None:
    """A file from outside costs no more time and memory than one of our own."""
    with pytest.raises(ChordListError) as error:
        ChordListExporter().read(data, CIGAR_BOX)
    assert error.value.line == line
