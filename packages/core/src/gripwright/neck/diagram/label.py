"""Labels: what the dots of a diagram carry."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from gripwright.errors import ConditionError
from gripwright.named import Named
from gripwright.neck.fingering import Fingering
from gripwright.neck.voicing import Voicing

Label = Callable[[Voicing, Fingering | None], tuple[str, ...]]
"""From a voicing and its fingers, if any hold it, to one text for each sounding string."""


def _degrees(voicing: Voicing, _fingering: Fingering | None) -> tuple[str, ...]:
    return tuple(map(str, voicing.degrees))


def _notes(voicing: Voicing, _fingering: Fingering | None) -> tuple[str, ...]:
    return tuple(map(str, voicing.notes))


def _intervals(voicing: Voicing, _fingering: Fingering | None) -> tuple[str, ...]:
    return tuple(str(degree.interval) for degree in voicing.degrees)


def _fingers(voicing: Voicing, fingering: Fingering | None) -> tuple[str, ...]:
    if fingering is None:
        raise ConditionError(
            name="label", value="finger", expected="another one where no fingers hold the grip"
        )
    held = zip(voicing.frets, fingering.fingers, strict=True)
    return tuple(str(finger or "") for fret, finger in held if fret >= 0)


def _none(voicing: Voicing, _fingering: Fingering | None) -> tuple[str, ...]:
    return ("",) * len(voicing.midi)


_LABELS: Final[dict[str, Label]] = {
    "degree": _degrees,
    "note": _notes,
    "finger": _fingers,
    "interval": _intervals,
    "none": _none,
}

LABELS: Final[Named[Label]] = Named(_LABELS, kind="label", hint=f"known are {', '.join(_LABELS)}")
"""What dots can carry, by name."""
