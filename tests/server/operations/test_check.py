"""The check as an operation."""

import pytest

from gripwright import UnknownNameError, load_registry
from gripwright.plugins import Registry
from gripwright_server.operations import NothingFoundError
from gripwright_server.operations.check import CheckRequest, check
from gripwright_server.operations.progress import progress_told
from tests.core.plugins.samples import Gives, NoRecipes, three_strings

SAMPLE = Gives(instruments=[three_strings("small")], strategies=[NoRecipes()])


def registry() -> Registry:
    """Return a registry with a plugin of one fault."""
    return load_registry(plugins=[("sample", SAMPLE)])


def test_rows_tell_law_value_and_fault() -> None:
    """One row a law and value; what is kept has no fault."""
    result = check(CheckRequest(plugin="sample", examples=3), registry)
    rows = {(row.name, row.law): row for row in result.rows()}
    assert len(rows) == result.count == result.returned == 17
    broken = rows["no-recipes", "serves-some-chord"]
    assert not broken.kept
    assert broken.fault == "it has no recipe for any of the 72 qualities"
    assert broken.counterexample is None
    assert broken.again == "gripwright check --plugin sample --law serves-some-chord --examples 3"
    kept = rows["small", "grips-sound-their-chord"]
    assert (kept.kept, kept.fault, kept.again) == (True, None, None)
    assert result.facts == {"kept": 16, "broken": 1}
    assert result.failed


def test_equal_requests_give_equal_rows() -> None:
    """Seeds are arguments; nothing else is by chance."""
    request = CheckRequest(plugin="sample", examples=5, seed=9)
    assert list(check(request, registry).rows()) == list(check(request, registry).rows())


def test_progress_is_told_task_by_task() -> None:
    """From the first to the last, with plugin, law and value."""
    told: list[tuple[int, int, str]] = []
    request = CheckRequest(plugin="sample", law="grips-sound-their-chord", examples=1)
    with progress_told(lambda *words: told.append(words)):
        check(request, registry)
    assert told == [(1, 1, "sample: grips-sound-their-chord of small")]


def test_nothing_in_use_is_nothing_to_check() -> None:
    """Save the theory, which can be named."""
    off = load_registry(disabled=[info.name for info in load_registry().plugins])
    with pytest.raises(NothingFoundError, match="there is no plugin to check"):
        check(CheckRequest(), lambda: off)
    assert not check(CheckRequest(plugin="theory", examples=1), lambda: off).failed


def test_an_unknown_plugin_is_told_the_nearest() -> None:
    """Before anything is tried."""
    with pytest.raises(UnknownNameError, match="did you mean 'sample'"):
        check(CheckRequest(plugin="sampel"), registry)


def test_a_law_about_nothing_that_a_plugin_gives() -> None:
    """It is a law, and there is nothing to try it on."""
    with pytest.raises(NothingFoundError, match="nothing that this law is about"):
        check(CheckRequest(plugin="sample", law="patterns-repeat"), registry)
