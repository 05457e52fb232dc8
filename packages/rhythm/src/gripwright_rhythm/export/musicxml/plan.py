"""Plans: which parts and staves a score is written in."""

from __future__ import annotations

import attrs

from gripwright import Score
from gripwright_rhythm.export.musicxml.notation import Notation
from gripwright_rhythm.export.musicxml.staff import (
    BASS,
    LOW_BASS,
    PERCUSSION,
    Staff,
    clef_of,
    tablature_of,
)


@attrs.frozen
class PartPlan:
    """What a part shows.

    Args:
        id: Its id.
        name: Its name.
        sound: Its sound, by the standard's list of instrument sounds.
        track: The index of its track.
        staves: Its staves from above.
        leads: Whether it has the chord symbols and what holds for all parts.
    """

    id: str
    name: str
    sound: str
    track: int
    staves: tuple[Staff, ...]
    leads: bool = False

    @property
    def unpitched(self) -> bool:
        """Whether nothing in it has a pitch, so that no key matters."""
        return all(staff.kind == "clicks" for staff in self.staves)


def plans_of(score: Score, notation: Notation, *, clicks: bool) -> tuple[PartPlan, ...]:
    """The parts of a score: the chords, and what else it has.

    Args:
        score: The score.
        notation: How the chords are written.
        clicks: Whether the clicks are written.
    """
    instrument = score.instrument
    clef = clef_of(instrument)
    staves = {
        "tablature": (Staff("notes", clef), tablature_of(instrument)),
        "notes": (Staff("notes", clef),),
        "slashes": (Staff("slashes", clef),),
    }[notation]
    sound = "pluck.bass" if clef == LOW_BASS else "pluck.guitar"
    plans = [PartPlan("P1", instrument.name, sound, 0, staves, leads=True)]
    others = (
        ("Bass", "pluck.bass.acoustic", Staff("notes", LOW_BASS), score.bass),
        ("Root", "strings.cello", Staff("notes", BASS), score.root),
        ("Click", "wood.wood-block", Staff("clicks", PERCUSSION), score.clicks if clicks else ()),
    )
    for track, (name, part_sound, staff, events) in enumerate(others, start=1):
        if events:
            plans.append(PartPlan(f"P{len(plans) + 1}", name, part_sound, track, (staff,)))
    return tuple(plans)
