"""Every way in which a plugin can fail is named, set aside and harms nobody else."""

import itertools
from collections.abc import Callable, Iterator

import pytest

from gripwright import Instrument, PluginError, Registry, hookimpl, load_registry
from gripwright.plugins import PluginFailure
from tests.core.plugins.samples import Blank, Gives, NoRecipes, Silence, three_strings


def failures_of(plugin: object) -> tuple[Registry, tuple[PluginFailure, ...]]:
    """Load a plugin beside a sound one, which must stand; return what failed."""
    sound = ("sound", Gives([three_strings("sound")]))
    registry = load_registry(plugins=[("faulty", plugin), sound])
    assert "sound" in registry.instruments
    assert all(failure.plugin.name == "faulty" for failure in registry.failures)
    return registry, registry.failures


def only_failure_of(plugin: object) -> PluginFailure:
    """Load a plugin that must be set aside as a whole for one fault; return that."""
    registry, failures = failures_of(plugin)
    (failure,) = failures
    (info,) = [info for info in registry.plugins if info.name == "faulty"]
    assert info.set_aside
    assert info.instruments == ()
    return failure


def endless() -> Iterator[Instrument]:
    """Give instruments without end."""
    for number in itertools.count():
        yield three_strings(f"n{number}")


def late() -> Iterator[Instrument]:
    """Give one instrument and then raise."""
    yield three_strings("first")
    raise RuntimeError("out of wood\nand glue")


class Raises:
    """A plugin that raises when asked."""

    def __init__(self, error: BaseException) -> None:
        self.error = error

    @hookimpl
    def gripwright_instruments(self) -> object:
        """Raise."""
        raise self.error


class Unprintable(Exception):  # noqa: N818 - what it is called does not matter here
    """An error that cannot even be printed."""

    def __str__(self) -> str:
        raise ValueError("no words")


class NoText:
    """A value that cannot even be shown."""

    def __repr__(self) -> str:
        raise ValueError("no words")


@pytest.mark.parametrize(
    ("error", "reason"),
    [
        (KeyError("wood"), "raised KeyError: 'wood'"),
        (SystemExit(3), "raised SystemExit: 3"),
        (ValueError(), "raised ValueError"),
        (Unprintable(), "raised Unprintable"),
        (ValueError("x" * 500), f"raised ValueError: {'x' * 297}..."),
    ],
)
def test_a_hook_that_raises_is_named(error: BaseException, reason: str) -> None:
    """The failure says which plugin, which hook and what it raised, and keeps the error."""
    failure = only_failure_of(Raises(error))
    assert failure.hook == "gripwright_instruments"
    assert failure.reason == reason
    assert failure.cause is error
    for word in ("'faulty'", "gripwright_instruments", reason):
        assert word in str(failure)


def test_an_interrupt_by_the_user_passes() -> None:
    """Who stops the program while a plugin runs does stop it."""
    with pytest.raises(KeyboardInterrupt):
        load_registry(plugins=[("faulty", Raises(KeyboardInterrupt()))])


def test_a_generator_that_raises_late_gives_nothing() -> None:
    """What came before the error is not used, and the message stays on one line."""
    failure = only_failure_of(Gives(late()))
    assert failure.reason == "raised RuntimeError: out of wood and glue"


def test_an_answer_without_end_is_cut() -> None:
    """A plugin cannot hang its host by never coming to an end."""
    assert "more than" in only_failure_of(Gives(endless())).reason


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (None, "None, which cannot be iterated over"),
        (7, "7, which cannot be iterated over"),
        ("guitar", "'g' is not an Instrument"),
        (["guitar"], "'guitar' is not an Instrument"),
        ([Instrument], "is a class where an object is needed"),
        ([None], "None is not an Instrument"),
        ([NoText()], "<NoText> is not an Instrument"),
        ([NoRecipes()], "is not an Instrument"),
        ([["x" * 500]], "x... is not an Instrument"),
    ],
)
def test_an_answer_of_the_wrong_type_is_named(answer: object, words: str) -> None:
    """The failure shows what was given."""
    failure = only_failure_of(Gives(answer))
    assert failure.hook == "gripwright_instruments"
    assert words in failure.reason
    assert len(str(failure)) < 250


def test_one_wrong_value_sets_the_whole_plugin_aside() -> None:
    """Nothing of a plugin at fault is used, whichever hook is at fault."""
    registry, failures = failures_of(Gives([three_strings("good")], ["bad"], exporters=["bad"]))
    assert "good" not in registry.instruments
    assert [failure.hook for failure in failures] == [
        "gripwright_voicing_strategies",
        "gripwright_exporters",
    ]


class Lacking:
    """A value with the given attributes alone."""

    def __init__(self, **attributes: object) -> None:
        self.__dict__.update(attributes)


def nothing(*_: object) -> tuple[()]:
    """Give nothing."""
    return ()


@pytest.mark.parametrize(
    ("kind", "sound", "broken"),
    [
        ("strategies", NoRecipes(), {"name": 3, "summary": None, "recipes": ()}),
        (
            "rhythm_families",
            Silence(),
            {"name": None, "summary": b"", "meters": "4/4", "patterns": ()},
        ),
        (
            "exporters",
            Blank(),
            {"name": (), "summary": 0, "suffixes": ".mid", "media_type": None, "export": b""},
        ),
    ],
)
def test_each_attribute_of_a_value_is_looked_at(
    kind: str, sound: object, broken: dict[str, object]
) -> None:
    """A value is known by its attributes; one that is missing or of a wrong type is named."""
    whole = {attribute: getattr(sound, attribute) for attribute in broken}
    assert failures_of(Gives(**{kind: [Lacking(**whole)]}))[1] == ()
    for attribute, wrong in broken.items():
        missing = {name: value for name, value in whole.items() if name != attribute}
        failure = only_failure_of(Gives(**{kind: [Lacking(**missing)]}))
        assert f"it has no {attribute!r}" in failure.reason
        failure = only_failure_of(Gives(**{kind: [Lacking(**{**whole, attribute: wrong})]}))
        assert f"its {attribute!r} is" in failure.reason


class Explosive:
    """A value whose attributes raise when looked at."""

    @property
    def name(self) -> str:
        """Raise."""
        raise RuntimeError("boom")


def test_a_value_that_raises_when_looked_at_is_named() -> None:
    """Looking at a stranger's value runs a stranger's code."""
    failure = only_failure_of(Gives(exporters=[Explosive()]))
    assert "raised RuntimeError: boom" in failure.reason


@pytest.mark.parametrize(
    "name", ["", "Small", "4-strings", "-x", "two words", "a_b", "gitarre-ü", "x\n", "a:b", "a.b"]
)
def test_a_name_that_breaks_the_rule_is_refused(name: str) -> None:
    """Names are lower-case ASCII letters, digits and hyphens, and start with a letter."""
    failure = only_failure_of(Gives(strategies=[NoRecipes(name=name)]))
    assert "lower-case ASCII letters" in failure.reason
    assert str(failure).isascii()


@pytest.mark.parametrize("name", ["a", "drop-2-and-4", "x9", "a--b-"])
def test_a_name_that_keeps_the_rule_is_taken(name: str) -> None:
    """The rule refuses nothing else."""
    assert failures_of(Gives(strategies=[NoRecipes(name=name)]))[1] == ()


def test_a_name_given_twice_stays_with_the_first_giver() -> None:
    """The later giver loses that name alone, and the failure names both."""
    first, second = three_strings("taken"), three_strings("taken")
    plugins = [("bb", Gives([second, three_strings("free")])), ("aa", Gives([first]))]
    registry = load_registry(plugins=plugins)
    assert registry.instruments["taken"] is first
    assert "free" in registry.instruments
    (failure,) = registry.failures
    assert failure.hook == "gripwright_instruments"
    for word in ("plugin 'aa'", "plugin 'bb'", "'taken'"):
        assert word in str(failure)
    by_name = {info.name: info for info in registry.plugins}
    assert by_name["bb"].instruments == ("free",)
    assert not by_name["bb"].set_aside


def test_a_plugin_cannot_give_one_name_twice() -> None:
    """The first of two values of one plugin stays."""
    first = three_strings("same")
    registry, (failure,) = failures_of(Gives([first, three_strings("same")]))
    assert registry.instruments["same"] is first
    assert str(failure).count("'faulty'") == 2


def test_a_built_in_strategy_cannot_be_replaced() -> None:
    """The core's plugin comes first, so its names stay its own."""
    registry, (failure,) = failures_of(Gives(strategies=[NoRecipes(name="any")]))
    assert not isinstance(registry.strategies["any"], NoRecipes)
    assert "plugin 'builtins'" in failure.reason


def test_two_plugins_of_one_name_are_refused() -> None:
    """The second is set aside and the failure names the first."""
    plugins = [("same", Gives([three_strings("one")])), ("same", Gives([three_strings("two")]))]
    registry = load_registry(plugins=plugins)
    assert "one" in registry.instruments
    assert "two" not in registry.instruments
    (failure,) = registry.failures
    assert "its name is taken by plugin 'same'" in failure.reason


def test_the_name_of_the_built_in_plugin_is_taken() -> None:
    """No stranger passes for the core."""
    registry = load_registry(plugins=[("builtins", Gives([three_strings("one")]))])
    (failure,) = registry.failures
    assert "gripwright.plugins.builtins" in failure.reason


class Misspelt:
    """A plugin with a slip in a hook's name beside a sound hook."""

    @hookimpl
    def gripwright_instrument(self) -> object:
        """Never be asked."""
        return ()

    @hookimpl
    def gripwright_exporters(self) -> object:
        """Give an exporter."""
        return [Blank()]


def test_an_unknown_hook_is_answered_with_the_nearest() -> None:
    """A slip in a hook's name is listed; the plugin's other hooks stand."""
    registry, (failure,) = failures_of(Misspelt())
    assert failure.hook == "gripwright_instrument"
    assert "did you mean gripwright_instruments?" in failure.reason
    assert "blank" in registry.exporters


class Unmarked:
    """A plugin that forgot the mark."""

    def gripwright_instruments(self) -> object:
        """Never be asked."""
        return ()

    def gripwright_own_business(self) -> None:
        """Be nobody's hook, and not marked as one."""


def test_a_hook_without_its_mark_is_listed() -> None:
    """A function with a hook's name and no mark would be passed over in silence."""
    _, (failure,) = failures_of(Unmarked())
    assert failure.hook == "gripwright_instruments"
    assert "not marked with hookimpl" in failure.reason


class Optional:
    """A plugin that also serves other versions, which may have another hook."""

    @hookimpl(optionalhook=True)
    def gripwright_something_later(self) -> object:
        """Never be asked."""
        return ()


def test_an_optional_hook_may_be_unknown() -> None:
    """A plugin can mark a hook that only other versions have."""
    assert failures_of(Optional())[1] == ()


class Wrapper:
    """A plugin that would wrap the others' answers."""

    @hookimpl(wrapper=True)
    def gripwright_instruments(self) -> Iterator[None]:
        """Never be asked."""
        return (yield)


class Greedy:
    """A plugin whose hook wants an argument."""

    @hookimpl
    def gripwright_instruments(self, wood: str) -> object:
        """Never be asked."""
        return wood


@pytest.mark.parametrize(
    ("plugin", "words"),
    [(Wrapper(), "wrapper"), (Greedy(), "wood"), (None, "it is None")],
)
def test_a_hook_that_cannot_be_called_is_named(plugin: object, words: str) -> None:
    """Wrappers, hooks with arguments and no plugin at all are set aside."""
    assert words in only_failure_of(plugin).reason


@pytest.mark.parametrize(
    "make",
    [
        lambda: Raises(ValueError("wood")),
        lambda: Gives(None),
        Misspelt,
        lambda: Gives([three_strings("same"), three_strings("same")]),
    ],
)
def test_any_failure_is_raised_where_the_caller_is_strict(make: Callable[[], object]) -> None:
    """Strict loading raises what lenient loading lists."""
    (failure,) = failures_of(make())[1]
    with pytest.raises(PluginError) as caught:
        load_registry(strict=True, plugins=[("faulty", make())])
    assert caught.value.failures == (str(failure),)
    assert isinstance(caught.value.__cause__, type(failure.cause))
