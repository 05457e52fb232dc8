"""The player's place on the ladder, as requests move it."""

import attrs

from gripwright.vocabulary import LadderPlace


def moved(
    place: LadderPlace, *, rung: int | None, part: int | None, tempo: float | None
) -> LadderPlace:
    """A place on the ladder with what is asked in the place of what is kept.

    Another rung begins with its first drill.

    Args:
        place: What is kept.
        rung: Another rung, or None.
        part: Another drill, or None.
        tempo: Other beats a minute, or None.

    Example:
        >>> moved(LadderPlace(12, 3, 72), rung=13, part=None, tempo=None)
        LadderPlace(rung=13, part=1, tempo_bpm=72)
    """
    if part is None:
        part = place.part if rung in {None, place.rung} else 1
    return attrs.evolve(
        place,
        rung=place.rung if rung is None else rung,
        part=part,
        tempo_bpm=place.tempo_bpm if tempo is None else tempo,
    )
