"""The time of a drill: how fast, how often, and what sounds beside the chords."""

from typing import ClassVar, Final

import attrs

from gripwright_rhythm.swing import CURVES, MOST_UNEVEN
from gripwright_server.operations.option import option

ENDINGS: Final = {"aimed-at": None, "always": True, "never": False}
"""When an ending bar follows, by its word."""


@attrs.frozen(kw_only=True, slots=False)
class TimeOptions:
    """How fast, how often, and what sounds beside the chords."""

    heading: ClassVar[str] = "Time"

    tempo: float = option(help="beats or clicks a minute", default=60.0, ge=2, le=800)
    tempo_of: str = option(
        help="what the tempo counts", default="beats", choices=("beats", "clicks")
    )
    tempo_step: float = option(
        help="beats a minute by which each chorus is faster", default=0.0, ge=-100, le=100
    )
    choruses: int | None = option(
        help="how often the form is played; left out, once, or once in each of the keys",
        default=None,
        ge=1,
        le=100,
    )
    count_in: int = option(help="bars of clicks before the form", default=2, ge=0, le=8)
    swing: str = option(
        help=f"the first half of a beat beside the second, 1 (even) to {MOST_UNEVEN}, such as 2 or"
        f" 3/2; or a curve that follows the tempo: {', '.join(CURVES)}",
        default="1",
        form="RATIO|NAME",
    )
    staccato: float = option(
        help="the part of its length that a short chord sounds", default=1.0, ge=0.1, le=1
    )
    ring_over: bool = option(help="long chords ring on through changes", default=False)
    ending: str = option(
        help="whether an ending bar with the tonic follows", default="aimed-at", choices=ENDINGS
    )
    bass: bool = option(help="bass notes as a track of their own", default=False)
    root_beneath: str = option(
        help="the root beneath the chords as a track of its own",
        default="none",
        choices=("none", "held", "pulsed"),
    )
