"""A strategy of a stranger, through the public hook, in fifteen lines."""

import inspect
from collections.abc import Iterator

import attrs

from gripwright import Chord, Recipe, VoicingStrategy, find_voicings, hookimpl, load_registry
from tests.core.neck.reference import frets_of, instrument


@attrs.frozen
class TenthAndFifth:
    """Root, fifth and the third a tenth above, for any chord that has them."""

    name: str = "open-tenth"
    summary: str = "Root, fifth and tenth"

    def recipes(self, chord: Chord, /) -> Iterator[Recipe]:
        """Give one stack."""
        for third in {"3", "b3"} & set(chord.degrees):
            yield Recipe(("1", "5", third))


class Plugin:
    """What the stranger's distribution registers."""

    @hookimpl
    def gripwright_voicing_strategies(self) -> list[VoicingStrategy]:
        """Give the strategy."""
        return [TenthAndFifth()]


def code_lines(thing: object) -> list[str]:
    """Return the lines of a class without its docstrings and blank lines."""
    lines = inspect.getsource(thing).splitlines()  # type: ignore[arg-type]
    return [line for line in lines if line.strip() and not line.strip().startswith('"""')]


def test_a_third_party_adds_a_strategy_in_fifteen_lines() -> None:
    """It stands beside the built-in ones and searches as they do."""
    registry = load_registry(strict=True, plugins=[("stranger", Plugin())])
    strategy = registry.strategies["open-tenth"]
    assert isinstance(strategy, VoicingStrategy)
    table = find_voicings(Chord.parse("C"), instrument("guitar"), strategy=strategy)
    assert frets_of("x-3-5-x-5-x") in [voicing.frets for voicing in table]
    assert {voicing.degrees for voicing in table} <= {
        ("1", "5", "3"),
        ("1", "3", "5"),
        ("5", "1", "3"),
    }
    assert {tuple(sorted(voicing.midi)) for voicing in table} <= {
        (root, root + 7, root + 16) for root in range(24, 96, 12)
    }
    assert len(code_lines(TenthAndFifth)) + len(code_lines(Plugin)) <= 15
