"""The rhythm family."""

from typing import Final

from gripwright import Meter, RhythmPattern
from gripwright.meter import WrittenFamily

TRAIN: Final = WrittenFamily(
    "train",
    "Eighths with the back-beat accented, as a train goes.",
    [
        RhythmPattern.parse("1' 1.5' 2'! 2.5' 3' 3.5' 4'! 4.5'", Meter(4, 4), name="train"),
        RhythmPattern.parse("1' 1.5' 2'! 2.5'", Meter(2, 4), name="train"),
    ],
)
"""In 4/4 and in 2/4 (common practice)."""
