"""Checks of plugins: what is tried, in which order, and what is said of it."""

import pytest

import gripwright.laws
from gripwright import UnknownNameError, load_registry
from gripwright.laws import LAWS, LawBrokenError, Terms, check, examine, planned
from tests.core.plugins.samples import Blank, Gives, NoRecipes, Silence, three_strings

SAMPLES = Gives([three_strings("small")], [NoRecipes()], [Silence()], [Blank()])
REGISTRY = load_registry(plugins=[("sample", SAMPLES)])
FEW = Terms(examples=5)


def test_every_value_meets_every_law_of_its_kind() -> None:
    """Nothing that a plugin gives goes untried."""
    tasks = planned(REGISTRY, plugin="sample")
    counts = {kind: sum(task.law.kind == kind for task in tasks) for kind in LAWS}
    expected = {kind: len(laws) for kind, laws in LAWS.items()}
    assert counts == {**expected, "theory": 0}


def test_the_theory_comes_first_and_plugins_by_name() -> None:
    """The order is that of the registry."""
    plugins = list(dict.fromkeys(task.plugin for task in planned(REGISTRY)))
    assert plugins == ["theory", *(info.name for info in REGISTRY.plugins)]


def test_laws_have_names_of_their_own_and_a_sentence() -> None:
    """A name says which law is meant."""
    laws = [law for kind in LAWS.values() for law in kind]
    names = [law.name for law in laws]
    assert len(set(names)) == len(names)
    assert all(law.statement.endswith(".") for law in laws)


def test_useless_values_break_the_laws_that_say_so() -> None:
    """No recipe, no pattern, no refusal of other metres; an empty file keeps its laws."""
    broken = {one.task.law.name for one in check(REGISTRY, FEW, plugin="sample") if not one.kept}
    assert broken == {
        "serves-some-chord",
        "lists-metres-that-it-knows",
        "refuses-metres-that-it-does-not-know",
    }


def test_what_is_said_of_a_breach_tries_it_again() -> None:
    """The line is Python, and raises what the check found."""
    (verdict,) = check(
        REGISTRY, Terms(examples=5, seed=3), plugin="sample", law="serves-some-chord"
    )
    assert verdict.command == (
        "gripwright check --plugin sample --law serves-some-chord --examples 5 --seed 3"
    )
    assert verdict.line == (
        "import gripwright.laws; "
        "gripwright.laws.examine('sample', law='serves-some-chord', examples=5, seed=3)"
    )
    with pytest.raises(LawBrokenError, match="no-recipes of sample breaks serves-some-chord"):
        examine("sample", law="serves-some-chord", examples=5, seed=3, registry=REGISTRY)


def test_a_limit_of_its_own_stands_in_the_line() -> None:
    """What hangs within two seconds may not within ten."""
    (verdict,) = check(REGISTRY, Terms(limit_s=2.5), plugin="sample", law="serves-some-chord")
    assert verdict.command.endswith("--law serves-some-chord --time-limit 2.5")
    assert verdict.line.endswith("law='serves-some-chord', limit_s=2.5)")


def test_examples_do_not_depend_on_what_else_is_tried() -> None:
    """A breach found among all plugins is found alone too."""
    alone = list(check(REGISTRY, FEW, plugin="sample", law="serves-some-chord"))
    among = [one for one in check(REGISTRY, FEW, law="serves-some-chord") if not one.kept]
    assert [str(one) for one in among] == [str(one) for one in alone]


def test_a_plugin_that_fails_to_load_breaks_that_law_and_no_other() -> None:
    """It is named; nothing of it is left to try."""
    registry = load_registry(plugins=[("bad", Gives(instruments=["a guitar"]))])
    (verdict,) = check(registry, FEW, plugin="bad")
    assert "bad breaks loads: plugin 'bad'" in str(verdict)
    assert "'a guitar' is not an Instrument" in str(verdict)


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        ({"plugin": "sampel"}, r"unknown plugin 'sampel' \(did you mean 'sample'\?\): known are"),
        ({"law": "recipes-repaet"}, r"unknown law .* \(did you mean 'recipes-repeat'"),
    ],
)
def test_unknown_names_are_told_the_nearest(wanted: dict[str, str], message: str) -> None:
    """Before anything is tried."""
    with pytest.raises(UnknownNameError, match=message):
        planned(REGISTRY, **wanted)


def test_a_plugin_that_is_switched_off_cannot_be_checked() -> None:
    """It is not in use."""
    registry = load_registry(disabled=["builtins"])
    with pytest.raises(UnknownNameError, match="unknown plugin 'builtins'"):
        planned(registry, plugin="builtins")


def test_the_public_names_are_there() -> None:
    """Each name of the package can be had."""
    for name in gripwright.laws.__all__:
        assert getattr(gripwright.laws, name) is not None
    assert set(gripwright.laws.__all__) <= set(dir(gripwright.laws))
