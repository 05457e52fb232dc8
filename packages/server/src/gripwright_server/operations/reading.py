"""How chord symbols are read: the options of every request that holds one."""

from typing import TYPE_CHECKING, ClassVar

import attrs

import gripwright
from gripwright_server.operations.option import option

if TYPE_CHECKING:
    from gripwright import Chord


@attrs.frozen(kw_only=True, slots=False)
class ReadingOptions:
    """The readings that a symbol leaves open."""

    heading: ClassVar[str] = "Reading the symbol"

    literal: bool = option(
        help="stack every extension as written, so that 13 has the 11 and 11 has the 3",
        default=False,
    )
    german: bool = option(help="read B as B flat and H as B", default=False)
    dim_is_dim7: bool = option(help="read dim as dim7, as many charts mean it", default=False)


def chord_of(symbol: str, reading: ReadingOptions) -> "Chord":
    """The chord that a symbol names.

    Raises:
        ChordSymbolError: The symbol cannot be read.

    Example:
        >>> str(chord_of("C-7", ReadingOptions()))
        'Cm7'
    """
    return gripwright.Chord.parse(
        symbol, literal=reading.literal, german=reading.german, dim_is_dim7=reading.dim_is_dim7
    )
