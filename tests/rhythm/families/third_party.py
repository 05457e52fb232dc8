"""A stranger's plugin with one rhythm family, complete; the documentation shows it as it stands."""

from gripwright import Meter, RhythmPattern, hookimpl
from gripwright.meter import WrittenFamily

AFTER_BEATS = WrittenFamily(
    "after-beats",
    "Short chords after every beat.",
    [
        RhythmPattern.parse("1.5' 2.5' 3.5' 4.5'", Meter(4, 4), name="after-beats"),
        RhythmPattern.parse("1.5' 2.5' 3.5'", Meter(3, 4), name="after-beats"),
    ],
)


@hookimpl
def gripwright_rhythm_families() -> list[WrittenFamily]:
    """Give the family; an entry point of the group `gripwright` names this module."""
    return [AFTER_BEATS]
