"""The hooks, and that each is documented, given a kind and asked."""

import attrs

from gripwright import Registry
from gripwright.plugins import Hooks, PluginInfo, kinds
from gripwright.plugins.host import HOOK_NAMES

KINDS = (kinds.INSTRUMENTS, kinds.STRATEGIES, kinds.RHYTHM_FAMILIES, kinds.EXPORTERS)


def test_the_hooks_are_those_of_the_public_face() -> None:
    """The names that plugins use do not change unseen."""
    assert HOOK_NAMES == (
        "gripwright_exporters",
        "gripwright_instruments",
        "gripwright_rhythm_families",
        "gripwright_voicing_strategies",
    )


def test_each_hook_is_documented_and_has_a_kind() -> None:
    """A hook that nobody reads about or asks would be dead."""
    assert {kind.hook for kind in KINDS} == set(HOOK_NAMES)
    for name in HOOK_NAMES:
        assert getattr(Hooks, name).__doc__


def test_each_kind_has_its_place_in_the_registry_and_in_what_is_known_of_a_plugin() -> None:
    """The fields go by the same names on both."""
    mappings = {"instruments", "strategies", "rhythm_families", "exporters"}
    assert mappings < {field.name for field in attrs.fields(Registry)}
    assert mappings < {field.name for field in attrs.fields(PluginInfo)}


def test_a_strangers_value_is_shown_alike_each_time() -> None:
    """Without its place in memory, in ASCII, and short."""

    class Failing:
        def __repr__(self) -> str:
            raise ValueError

    assert kinds.shown(object()) == "<object object>"
    assert kinds.shown(Failing()) == "<Failing>"
    assert kinds.shown("é") == r"'\xe9'"
    assert kinds.shown("x" * 100) == "'" + "x" * 56 + "..."
