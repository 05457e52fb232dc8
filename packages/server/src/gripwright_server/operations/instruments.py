"""The instruments that the plugins give."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

import attrs

from gripwright_server.operations.operation import NothingFoundError, Operation, RegistrySource

if TYPE_CHECKING:
    from gripwright import Instrument


@attrs.frozen(kw_only=True)
class InstrumentsRequest:
    """A request for every instrument."""


@attrs.frozen(kw_only=True)
class InstrumentRow:
    """A row: one instrument.

    Args:
        id: What a request calls it.
        name: What people call it.
        strings: Open pitches as strung, from the bass side to the treble side.
        doubles: For each string, the pitches of the strings paired with it.
        first_frets: For each string, the fret at which it starts.
        frets: Number of frets.
        scale_mm: Length of the longest string in mm.
        scales_mm: For each string, its length in mm.
    """

    id: str
    name: str
    strings: tuple[str, ...]
    doubles: tuple[tuple[str, ...], ...]
    first_frets: tuple[int, ...]
    frets: int
    scale_mm: float
    scales_mm: tuple[float, ...]


@attrs.frozen
class InstrumentsResult:
    """Every instrument, by id.

    Args:
        instruments: The instruments.
    """

    instruments: "tuple[Instrument, ...]"

    @property
    def count(self) -> int:
        """Instruments found in all."""
        return len(self.instruments)

    @property
    def returned(self) -> int:
        """Instruments that `rows` yields: all of them."""
        return len(self.instruments)

    @property
    def warnings(self) -> tuple[str, ...]:
        """None: a list of instruments leaves nothing open."""
        return ()

    def rows(self) -> Iterator[InstrumentRow]:
        """One row an instrument."""
        return map(_row, self.instruments)


def instruments(request: InstrumentsRequest, registry: RegistrySource) -> InstrumentsResult:
    """List every instrument of the registry, by id.

    Raises:
        NothingFoundError: No plugin gives an instrument.
    """
    del request
    known = registry().instruments
    if not known:
        raise NothingFoundError(
            sentence="there is no instrument: no plugin that gives one is in use"
            " (the distribution gripwright-tunings brings the usual ones)"
        )
    return InstrumentsResult(tuple(known[name] for name in sorted(known)))


def _row(instrument: "Instrument") -> InstrumentRow:
    strings = instrument.strings
    return InstrumentRow(
        id=instrument.id,
        name=instrument.name,
        strings=tuple(str(string.open) for string in strings),
        doubles=tuple(tuple(map(str, string.doubles)) for string in strings),
        first_frets=tuple(string.first_fret for string in strings),
        frets=instrument.frets,
        scale_mm=round(float(instrument.scale_mm), 1),
        scales_mm=tuple(round(float(string.scale_mm), 1) for string in strings),
    )


INSTRUMENTS: Final = Operation(
    name="instruments",
    summary="List the instruments",
    collection="instruments",
    request=InstrumentsRequest,
    function=instruments,
    result=InstrumentsResult,
    row=InstrumentRow,
)
"""The list of instruments as an operation."""
