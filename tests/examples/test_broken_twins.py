"""Each law catches its fault, and names it."""

import pytest

from examples.broken_twins import TWINS, verdict
from gripwright.laws import LAWS


def test_every_law_of_plugins_has_a_twin() -> None:
    """A law that nothing breaks proves nothing."""
    laws = {law.name for kind, laws in LAWS.items() if kind != "theory" for law in laws}
    assert TWINS.keys() == laws


@pytest.mark.parametrize("law", TWINS)
def test_the_twin_breaks_its_law(law: str) -> None:
    """The verdict names plugin or value, law and fault."""
    found = verdict(law)
    assert not found.kept
    assert f"twin breaks {law}: " in str(found)


@pytest.mark.parametrize(
    ("law", "words"),
    [
        ("frets-lie-in-equal-temperament", "it lies at 35.28 mm, and equal temperament puts it"),
        ("strings-are-measured-in-mm", "string 1 is 25 mm long"),
        ("recipes-follow-the-key", "chord C, interval m2: C has 1 recipe and Db 0 recipes"),
        ("recipes-keep-to-their-chord", "chord Cm: 1 5 3 says that it voices as written"),
        ("patterns-fill-their-bars", "lasts 2 quarters, and its bars last 4"),
        ("refuses-metres-that-it-does-not-know", "metre"),
        ("leaves-the-score-alone", "the score has changed while it was written"),
    ],
)
def test_the_smallest_case_is_told_in_words_of_the_trade(law: str, words: str) -> None:
    """What a player or a developer can take in at a glance."""
    assert words in str(verdict(law)).replace("meter", "metre")
