"""Sample plugins and their values, for the tests of the plugin host."""

from collections.abc import Iterable

import attrs

from gripwright import Chord, Instrument, Meter, Recipe, RhythmPattern, hookimpl


def three_strings(name: str) -> Instrument:
    """Return a small instrument of the given id."""
    return Instrument.from_text("D3 A3 D4", frets=12, scale_mm=500.0, id=name)


@attrs.frozen
class NoRecipes:
    """A voicing strategy that voices nothing."""

    name: str = "no-recipes"
    summary: str = "Voices nothing."

    def recipes(self, _chord: Chord, /) -> Iterable[Recipe]:
        """Give no recipe."""
        return ()


@attrs.frozen
class Silence:
    """A rhythm family of no pattern."""

    name: str = "silence"
    summary: str = "Plays nothing."
    meters: tuple[Meter, ...] = (Meter(4, 4),)

    def patterns(self, _meter: Meter, /, *, seed: int) -> Iterable[RhythmPattern]:
        """Give no pattern, whatever the seed."""
        return () if seed else []


@attrs.frozen
class Blank:
    """An exporter of empty files."""

    name: str = "blank"
    summary: str = "Writes nothing."
    suffixes: tuple[str, ...] = (".blank",)
    media_type: str = "text/plain"

    def export(self, _score: object, /) -> bytes:
        """Write nothing."""
        return b""


@attrs.frozen
class Gives:
    """A plugin that answers each hook with what it was made with."""

    instruments: object = ()
    strategies: object = ()
    rhythm_families: object = ()
    exporters: object = ()

    @hookimpl
    def gripwright_instruments(self) -> object:
        """Give the instruments it holds."""
        return self.instruments

    @hookimpl
    def gripwright_voicing_strategies(self) -> object:
        """Give the strategies it holds."""
        return self.strategies

    @hookimpl
    def gripwright_rhythm_families(self) -> object:
        """Give the rhythm families it holds."""
        return self.rhythm_families

    @hookimpl
    def gripwright_exporters(self) -> object:
        """Give the exporters it holds."""
        return self.exporters
