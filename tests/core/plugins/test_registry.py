"""What the registry collects, in which order, and what it says of what it has not."""

import pytest

from gripwright import Registry, UnknownNameError, load_registry
from gripwright.neck.strategies import BUILTIN_STRATEGIES
from gripwright.plugins import PluginInfo
from tests.core.plugins.samples import Blank, Gives, NoRecipes, Silence, three_strings


def info_of(registry: Registry, name: str) -> PluginInfo:
    """Return what the registry knows of one plugin."""
    (info,) = [info for info in registry.plugins if info.name == name]
    return info


def test_the_core_registers_its_own_strategies_as_a_plugin() -> None:
    """The built-in strategies come first, in their order, from a plugin that is listed."""
    registry = load_registry(strict=True)
    names = tuple(strategy.name for strategy in BUILTIN_STRATEGIES)
    assert names
    assert tuple(registry.strategies)[: len(names)] == names
    builtins = registry.plugins[0]
    assert (builtins.name, builtins.distribution) == ("builtins", "gripwright")
    assert builtins.entry_point == "gripwright.plugins.builtins"
    assert builtins.strategies == names


def test_every_kind_of_value_stands_under_its_name() -> None:
    """A plugin may answer all hooks; each value is the very object that it gave."""
    instrument, strategy, family, exporter = three_strings("small"), NoRecipes(), Silence(), Blank()
    plugin = Gives([instrument], (strategy,), {family}, iter([exporter]))
    registry = load_registry(strict=True, plugins=[("sample", plugin)])
    assert registry.instruments["small"] is instrument
    assert registry.strategies["no-recipes"] is strategy
    assert registry.rhythm_families["silence"] is family
    assert registry.exporters["blank"] is exporter
    assert info_of(registry, "sample") == PluginInfo(
        name="sample",
        instruments=("small",),
        strategies=("no-recipes",),
        rhythm_families=("silence",),
        exporters=("blank",),
    )


def test_plugins_are_asked_by_name_whatever_their_order() -> None:
    """Built-ins come first, the others by name; the order they are passed in does not count."""
    plugins = [(name, Gives([three_strings(f"of-{name}")])) for name in ("zz", "aa", "mm")]
    registries = [
        load_registry(disabled=["tunings"], plugins=given) for given in (plugins, plugins[::-1])
    ]
    for registry in registries:
        names = [info.name for info in registry.plugins]
        assert names[0] == "builtins"
        assert names[1:] == sorted(names[1:])
        assert list(registry.instruments) == ["of-aa", "of-mm", "of-zz"]
    assert registries[0].plugins == registries[1].plugins


def test_a_plugin_keeps_the_order_of_its_values() -> None:
    """Values of one plugin stand in the order in which it gives them."""
    plugin = Gives([three_strings("second"), three_strings("first")])
    registry = load_registry(disabled=["tunings"], plugins=[("sample", plugin)])
    assert list(registry.instruments) == ["second", "first"]


@pytest.mark.parametrize("disabled", [["sample"], ("sample", "tunings"), "sample"])
def test_a_plugin_that_is_switched_off_is_listed_and_not_asked(disabled: list[str]) -> None:
    """Nothing of it is used; a single name may stand alone."""
    plugin = Gives([three_strings("small")])
    registry = load_registry(disabled=disabled, plugins=[("sample", plugin)])
    assert "small" not in registry.instruments
    assert info_of(registry, "sample") == PluginInfo(name="sample", enabled=False)


def test_the_built_in_plugin_can_be_switched_off() -> None:
    """The core's own plugin has no privilege."""
    assert not set(load_registry(disabled=["builtins"]).strategies) & {
        strategy.name for strategy in BUILTIN_STRATEGIES
    }


def test_switching_off_an_unknown_plugin_names_the_nearest() -> None:
    """A slip in a name to switch off is refused, for it would leave the plugin on."""
    with pytest.raises(UnknownNameError) as caught:
        load_registry(disabled=["sampel"], plugins=[("sample", Gives())])
    assert caught.value.kind == "plugin"
    assert caught.value.nearest[0] == "sample"


def test_an_unknown_name_is_answered_with_the_nearest() -> None:
    """A slip in a name shows what was meant."""
    plugins = [("sample", Gives([three_strings("small-one")]))]
    registry = load_registry(plugins=plugins)
    with pytest.raises(LookupError, match="did you mean 'small-one'") as caught:
        registry.instruments["smal-one"]
    assert isinstance(caught.value, UnknownNameError)
    assert caught.value.kind == "instrument"
    with pytest.raises(UnknownNameError) as caught:
        registry.strategies["no such"]
    assert caught.value.kind == "strategy"


def test_without_its_distribution_an_instrument_names_it() -> None:
    """Who asks for a usual instrument learns which distribution brings it, and how it stands."""
    with pytest.raises(UnknownNameError) as caught:
        load_registry(disabled=["tunings"]).instruments["guitar"]
    assert "gripwright-tunings" in caught.value.hint
    assert "switched off" in caught.value.hint
    assert "gripwright-tunings" in str(caught.value)


def test_with_its_distribution_an_unknown_instrument_has_no_such_hint() -> None:
    """Where the usual instruments are there, telling how to get them would mislead."""
    with pytest.raises(UnknownNameError) as caught:
        load_registry().instruments["gitar"]
    assert caught.value.hint == ""
    assert caught.value.nearest[0] == "guitar"


def test_loading_twice_gives_equal_registries() -> None:
    """Nothing is kept from one load to the next."""
    first, second = load_registry(), load_registry()
    assert first.plugins == second.plugins
    assert list(first.instruments.items()) == list(second.instruments.items())
