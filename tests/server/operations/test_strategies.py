"""The list of voicing strategies."""

from collections.abc import Iterator

import pytest

from gripwright import Chord, Recipe, hookimpl, load_registry
from gripwright.errors import ChordSymbolError
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.strategies import StrategiesRequest, StrategyRow, strategies


class Bare:
    """A strategy of a stranger: root and fifth."""

    name = "bare"
    summary = "Root and fifth"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """One stack where the chord has a fifth."""
        if "5" in chord.degrees:
            yield Recipe(("1", "5"), "scale")


class Stranger:
    """A plugin with one strategy."""

    @hookimpl
    def gripwright_voicing_strategies(self) -> list[Bare]:
        """Give it."""
        return [Bare()]


def _rows(chord: str | None = None) -> dict[str, StrategyRow]:
    registry = load_registry(plugins=[("stranger", Stranger())])
    result = strategies(StrategiesRequest(chord=chord), lambda: registry)
    rows = {row.name: row for row in result.rows()}
    assert list(rows) == sorted(registry.strategies)
    assert result.count == result.returned == len(rows)
    return rows


def test_every_strategy_has_its_sentence_and_its_giver() -> None:
    """The library's own come from its distribution; one given by the caller comes from none."""
    rows = _rows()
    assert rows["drop-2"].distribution == "gripwright"
    assert rows["bare"] == StrategyRow(
        name="bare", summary="Root and fifth", distribution=None, recipes=None
    )
    assert all(row.summary for row in rows.values())


def test_recipes_of_a_chord_are_those_that_players_learn() -> None:
    """Drop 2 of Cmaj7 in its four inversions; rootless G7 with 13 (common practice)."""
    drop_2 = _rows("Cmaj7")["drop-2"].recipes or ()
    assert {recipe["degrees"] for recipe in drop_2} == {
        ("1", "5", "7", "3"),
        ("3", "7", "1", "5"),
        ("5", "1", "3", "7"),
        ("7", "3", "5", "1"),
    }
    assert {recipe["voices"] for recipe in drop_2} == {"as_written"}
    assert next(r["offsets"] for r in drop_2 if r["degrees"][0] == "1") == (0, 7, 11, 16)
    rootless = _rows("G7")["rootless"].recipes or ()
    assert ("3", "13", "b7", "9") in {recipe["degrees"] for recipe in rootless}
    assert {recipe["voices"] for recipe in rootless} == {"tensions"}


def test_strategy_without_a_recipe_for_the_chord_stays_in_the_list() -> None:
    """None asked for, none there and some: three different answers."""
    rows = _rows("Cdim7")
    assert rows["bare"].recipes == ()
    assert rows["shell"].recipes
    assert _rows()["shell"].recipes is None


def test_chord_that_cannot_be_read_is_refused() -> None:
    """The symbol of the request is read like any other, and its warnings are passed on."""
    with pytest.raises(ChordSymbolError):
        _rows("Cmaj77")
    result = strategies(StrategiesRequest(chord="C2"), load_registry)
    assert result.warnings == Chord.parse("C2").warnings != ()
    assert strategies(StrategiesRequest(), load_registry).warnings == ()


def test_no_strategy_at_all_is_told_with_what_would_bring_some() -> None:
    """With every giver switched off there is nothing to list."""
    givers = {plugin.name for plugin in load_registry().plugins if plugin.strategies}
    with pytest.raises(NothingFoundError, match="builtins"):
        strategies(StrategiesRequest(), lambda: load_registry(disabled=givers))
