"""The lists of instruments and of plugins."""

import pytest

from gripwright import Instrument, hookimpl, load_registry
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.instruments import InstrumentsRequest, instruments
from gripwright_server.operations.plugins import PluginsRequest, plugins


class Small:
    """A plugin with one instrument."""

    @hookimpl
    def gripwright_instruments(self) -> list[Instrument]:
        """Give a small one."""
        return [Instrument.from_text("D3 A3 D4", frets=12, scale_mm=500.0, id="small")]


class Broken:
    """A plugin that fails."""

    @hookimpl
    def gripwright_instruments(self) -> list[Instrument]:
        """Fail."""
        raise ValueError("no wood")


def test_instruments_come_by_id_with_their_strings_as_strung() -> None:
    """A short fifth string says at which fret it starts."""
    rows = list(instruments(InstrumentsRequest(), load_registry).rows())
    assert [row.id for row in rows] == sorted(row.id for row in rows)
    banjo = next(row for row in rows if row.id == "banjo")
    assert banjo.strings == ("G4", "D3", "G3", "B3", "D4")
    assert banjo.first_frets == (5, 0, 0, 0, 0)


def test_no_instrument_at_all_says_who_brings_them() -> None:
    """With the usual plugin switched off the list is an error, not an empty table."""
    usual = {plugin.name for plugin in load_registry().plugins if plugin.instruments}
    with pytest.raises(NothingFoundError, match="gripwright-tunings"):
        instruments(InstrumentsRequest(), lambda: load_registry(disabled=usual))


def test_instrument_of_a_strange_plugin_stands_in_the_list() -> None:
    """Whatever gives an instrument is listed with the rest."""
    registry = load_registry(plugins=[("small", Small())])
    ids = [row.id for row in instruments(InstrumentsRequest(), lambda: registry).rows()]
    assert "small" in ids


def test_plugins_tell_what_they_give_and_what_failed() -> None:
    """In use, switched off or set aside: each plugin has its row."""
    registry = load_registry(
        plugins=[("small", Small()), ("broken", Broken()), ("unused", Small())],
        disabled=["unused"],
    )
    rows = {row.name: row for row in plugins(PluginsRequest(), lambda: registry).rows()}
    assert rows["builtins"].status == "in use"
    assert "any" in rows["builtins"].strategies
    assert rows["small"].instruments == ("small",)
    assert rows["unused"].status == "switched off"
    assert rows["broken"].status == "set aside"
    assert "no wood" in rows["broken"].failures[0]
