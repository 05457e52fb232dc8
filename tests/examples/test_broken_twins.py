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
    assert f"--plugin twin --law {law} " in f"{found.command} "


@pytest.mark.parametrize(
    ("law", "words"),
    [
        ("frets-lie-in-equal-temperament", "it lies at 35.28 mm, and equal temperament puts it"),
        ("strings-are-measured-in-mm", "string 1 is 25 mm long"),
        ("recipes-follow-the-key", "chord C, interval m2: C has 1 recipe and Db 0 recipes"),
        ("recipes-keep-to-their-chord", "chord Cm: 1 5 3 says that it voices as written"),
        ("patterns-fill-their-bars", "lasts 2 quarters, and its bars last 4"),
        ("gives-something", "it gives nothing"),
        ("says-the-same-in-another-process", "strategy shuffled, chord C: at first it gives"),
        ("an-instrument-is-a-value", "mm, and asked again at"),
        ("refuses-metres-that-it-does-not-know", "metre 1/1: it does not know 1/1 and gives 1"),
        ("leaves-the-score-alone", "rhythm: '!' where it was ''"),
        ("refuses-what-it-cannot-read", "at byte 0, taken 0, put b'\\xff\\xfe': it raised Unicode"),
        ("reads-back-what-it-keeps", "what it reads is not what it keeps: 5 where it was 4"),
    ],
)
def test_the_smallest_case_is_told_in_words_of_the_trade(law: str, words: str) -> None:
    """What a player or a developer can take in at a glance."""
    assert words in str(verdict(law))
