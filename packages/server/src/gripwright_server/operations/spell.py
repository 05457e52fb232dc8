"""Spelling chord symbols: their notes, degrees, essential tones and tensions."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, Final

import attrs

from gripwright_server.operations.operation import Operation, RegistrySource
from gripwright_server.operations.option import option
from gripwright_server.operations.reading import ReadingOptions, chord_of

if TYPE_CHECKING:
    from gripwright import Chord


@attrs.frozen(kw_only=True, slots=False)
class SpellRequest(ReadingOptions):
    """Symbols to spell, and how to read them."""

    heading: ClassVar[str] = "Symbols"

    symbols: tuple[str, ...] = option(
        help="chord symbols, such as Cmaj9 F#m7b5 G7/B", positional=True, form="SYMBOL"
    )


@attrs.frozen(kw_only=True)
class SpelledChord:
    """A row: one chord, spelled.

    Args:
        symbol: Canonical symbol.
        root: Root.
        bass: Slash bass, or None.
        notes: Notes of the degrees, in their order; a foreign bass stands only in `bass`.
        degrees: Degrees above the root.
        essential: Groups of degrees of which at least one must sound.
        tensions: Degrees that can be added.
        warnings: What the symbol leaves open, one sentence each.
    """

    symbol: str
    root: str
    bass: str | None
    notes: tuple[str, ...]
    degrees: tuple[str, ...]
    essential: tuple[tuple[str, ...], ...]
    tensions: tuple[str, ...]
    warnings: tuple[str, ...]


@attrs.frozen
class SpellResult:
    """The chords of a request, in its order.

    Args:
        chords: One chord a symbol.
    """

    chords: "tuple[Chord, ...]"

    @property
    def count(self) -> int:
        """Chords found in all."""
        return len(self.chords)

    @property
    def returned(self) -> int:
        """Chords that `rows` yields: all of them."""
        return len(self.chords)

    @property
    def warnings(self) -> tuple[str, ...]:
        """The warnings of all readings, in order."""
        return tuple(warning for chord in self.chords for warning in chord.warnings)

    def rows(self) -> Iterator[SpelledChord]:
        """One row a symbol."""
        return map(spelled, self.chords)


def spelled(chord: "Chord") -> SpelledChord:
    """The row of a chord.

    Example:
        >>> from gripwright import Chord
        >>> spelled(Chord.parse("Abm6")).notes
        ('Ab', 'Cb', 'Eb', 'F')
    """
    return SpelledChord(
        symbol=chord.symbol,
        root=str(chord.root),
        bass=None if chord.bass is None else str(chord.bass),
        notes=tuple(map(str, chord.notes)),
        degrees=tuple(map(str, chord.degrees)),
        essential=tuple(tuple(map(str, group)) for group in chord.essential),
        tensions=tuple(map(str, chord.tensions)),
        warnings=chord.warnings,
    )


def spell(request: SpellRequest, registry: RegistrySource) -> SpellResult:
    """Read and spell every symbol of a request.

    Args:
        request: Symbols and how to read them.
        registry: Not asked: spelling needs no plugin.

    Raises:
        ChordSymbolError: A symbol cannot be read.
    """
    del registry
    return SpellResult(tuple(chord_of(symbol, request) for symbol in request.symbols))


SPELL: Final = Operation(
    name="spell",
    summary="Spell chord symbols: notes, degrees, essential tones, tensions",
    collection="chords",
    request=SpellRequest,
    function=spell,
    result=SpellResult,
    row=SpelledChord,
)
"""Spelling as an operation."""
