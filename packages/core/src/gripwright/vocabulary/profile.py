"""The player's profile: what stays the same from day to day."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright.errors import ConditionError
from gripwright.leading.band import BANDS, Band
from gripwright.neck.conditions import STROKES, Stroke
from gripwright.neck.hand import Hand
from gripwright.neck.instrument import Instrument
from gripwright.vocabulary.ladder_place import LadderPlace

_USUAL_HAND: Final = Hand()
_FOOT_OF_LADDER: Final = LadderPlace()


@attrs.frozen
class Profile:
    """A player.

    Args:
        instrument: The instrument.
        hand: The fretting hand.
        left_handed: Whether diagrams are mirrored.
        stroke: What the other hand does, as in `gripwright.neck.conditions.Conditions`.
        band: Who else plays, a name of `gripwright.leading.band.BANDS`, or None.
        ladder: How far up the ladder of practice; it changes as the player climbs.

    Raises:
        ConditionError: An unknown stroke or band.

    Example:
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> Profile(guitar, Hand(reach_mm=100), band="bass").roots
        ('none', 'optional')
    """

    instrument: Instrument
    hand: Hand = _USUAL_HAND
    left_handed: bool = False
    stroke: Stroke = attrs.field(default="any")
    band: str | None = attrs.field(default=None)
    ladder: LadderPlace = _FOOT_OF_LADDER

    @stroke.validator
    def _check_stroke(self, _attribute: object, value: str) -> None:
        if value not in STROKES:
            raise ConditionError(name="stroke", value=value, expected=" or ".join(STROKES))

    @band.validator
    def _check_band(self, _attribute: object, value: str | None) -> None:
        if value is not None and value not in BANDS:
            raise ConditionError(name="band", value=value, expected=" or ".join(BANDS))

    @property
    def company(self) -> Band | None:
        """Who else plays."""
        return None if self.band is None else BANDS[self.band]

    @property
    def roots(self) -> tuple[str, ...]:
        """What new grips do with the root, in the order in which it is tried."""
        return ("optional",) if self.company is None else self.company.roots
