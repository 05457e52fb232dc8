"""The player: the instrument and the fretting hand of a request, and the objects they name."""

import re
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

import gripwright
from gripwright.errors import ConditionError
from gripwright_server.operations.option import option

if TYPE_CHECKING:
    from gripwright import Hand, Instrument, InstrumentString
    from gripwright.plugins import Registry

CUSTOM_FRETS: Final = 22
"""Frets of a tuning given as text, where none are asked for."""

CUSTOM_SCALE_MM: Final = 648.0
"""Scale length in mm of a tuning given as text, where none is asked for."""

# An id is one word of small letters; a tuning has several words, or capitals, or digits and dots.
_TUNING: Final = re.compile(r"\s*\S+\s+\S|[A-Ga-g][b#♭♯𝄫𝄪]*-?\d+(\.|$)")


@attrs.frozen(kw_only=True, slots=False)
class InstrumentOptions:
    """Which instrument, by name or by its strings."""

    heading: ClassVar[str] = "Instrument"

    instrument: str = option(
        help="an instrument by its id, or the open strings as strung from the bass side,"
        ' such as "D2 A2 D3 G3 B3 E4"',
        default="guitar",
        names="instruments",
        form="ID|STRINGS",
    )
    frets: int | None = option(
        help=f"frets of the neck; as built, or {CUSTOM_FRETS} for open strings",
        default=None,
        ge=1,
        le=48,
    )
    scale_mm: float | None = option(
        help=f"length of the longest string; as built, or {CUSTOM_SCALE_MM:g} for open strings",
        default=None,
        ge=1,
        le=5000,
        unit="mm",
    )
    capo: int = option(help="fret of the capo; frets count from it", default=0, ge=0, le=47)


@attrs.frozen(kw_only=True, slots=False)
class HandOptions:
    """What the fretting hand can do."""

    heading: ClassVar[str] = "Fretting hand"

    fingers: int = option(help="fingers that press", default=4, ge=1, le=5)
    reach_mm: float = option(
        help="how far apart along the neck the fretted notes may lie",
        default=115.0,
        ge=0,
        le=1000,
        unit="mm",
    )


def instrument_of(request: InstrumentOptions, registry: "Registry") -> "Instrument":
    """The instrument of a request: named or from its strings, with its frets, scale and capo.

    A known id wins; then a text of several words, or one that starts like a pitch, is read as
    open strings. An id such as ``E2.A2.D3.G3.C4.F4``, which a custom instrument carries, is read
    so too.

    Raises:
        UnknownNameError: No instrument has that name.
        NotationError: The open strings cannot be read.
        ConditionError: The neck has no room for what is asked.
    """
    instruments = registry.instruments
    text = request.instrument
    if text not in instruments and _TUNING.match(text):
        instrument = _strung(request)
    else:
        instrument = _as_built(request, instruments[text])
    return instrument.with_capo(request.capo) if request.capo else instrument


def _strung(request: InstrumentOptions) -> "Instrument":
    """An instrument from its open strings."""
    try:
        return gripwright.Instrument.from_text(
            request.instrument.replace(".", " "),
            frets=CUSTOM_FRETS if request.frets is None else request.frets,
            scale_mm=CUSTOM_SCALE_MM if request.scale_mm is None else request.scale_mm,
        )
    except ConditionError as error:
        if error.name != "strings":
            raise
        # In a request, "strings" are those that sound.
        raise ConditionError(
            name="instrument", value=f"{error.value} strings", expected=error.expected
        ) from error


def _as_built(request: InstrumentOptions, instrument: "Instrument") -> "Instrument":
    """A named instrument with the frets and the scale of the player's own make."""
    changed = instrument
    if request.frets is not None:
        changed = attrs.evolve(changed, frets=request.frets)
    if request.scale_mm is not None:
        ratio = request.scale_mm / instrument.scale_mm
        strings = [_stretched(string, ratio) for string in instrument.strings]
        changed = attrs.evolve(changed, strings=tuple(strings))
    return changed


def _stretched(string: "InstrumentString", ratio: float) -> "InstrumentString":
    return attrs.evolve(string, scale_mm=string.scale_mm * ratio)


def hand_of(request: HandOptions) -> "Hand":
    """The fretting hand of a request.

    Example:
        >>> hand_of(HandOptions(reach_mm=100.0))
        Hand(fingers=4, reach_mm=100.0)
    """
    return gripwright.Hand(fingers=request.fingers, reach_mm=request.reach_mm)


def played(instrument: "Instrument") -> str:
    """The instrument in words, with its open strings.

    Args:
        instrument: The instrument, with its capo.

    Example:
        >>> from gripwright import Instrument
        >>> played(Instrument.from_text("G4 C4 E4 A4"))
        'strings G4 C4 E4 A4'
    """
    strings = " ".join(str(string.open) for string in instrument.strings)
    return instrument.name if strings in instrument.name else f"{instrument.name} ({strings})"
