"""The nearest readable symbol: what is tried, and in what order.

Each case says which texts can be read, so that what is offered shows what came first.
"""

from __future__ import annotations

import pytest

from gripwright.theory.nearest import nearest_symbol


@pytest.mark.parametrize(
    ("text", "position", "readable", "nearest"),
    [
        # A letter in the other case comes before all else, at the fault before elsewhere.
        ("dm7", 0, {"Dm7", "m7"}, "Dm7"),
        ("CMa", 2, {"CmA", "CMA", "cMa", "CM"}, "CMA"),
        ("Cma", 1, {"CmA", "cma", "Cm"}, "cma"),
        # H is the B of German books.
        ("H7", 0, {"B7", "7"}, "B7"),
        ("h7", 0, {"B7", "7"}, "B7"),
        ("CH", 1, {"BH", "C"}, "C"),
        # Then one sign less, at the fault before elsewhere, then the left before the right.
        ("Cmaj77", 5, {"Cmaj7"}, "Cmaj7"),
        ("Cab", 2, {"Ca", "Cb"}, "Ca"),
        ("Cab", 1, {"Ca", "Cb"}, "Cb"),
        ("2345", 1, {"345", "245"}, "245"),
        ("234", 1, {"34", "23"}, "34"),
        ("23", 0, {"3", "2"}, "3"),
        # Two signs in the other order.
        ("C7m", 1, {"Cm7"}, "Cm7"),
        ("7Cm", 0, {"C7m", "7mC"}, "C7m"),
        ("C7mx", 3, {"Cm7x", "7Cmx"}, "Cm7x"),
        # The last two signs less, where more than a letter stays.
        ("C7xx", 2, {"C7", "C7bx"}, "C7"),
        ("Dxy", 1, {"D", "D#y"}, "D#y"),
        # A sign in place of the faulty one, before one more.
        ("Cx", 1, {"Cb", "Cbx", "C#"}, "Cb"),
        ("C(b9", 4, {"C(b9)"}, "C(b9)"),
        ("Cmjx", 2, {"Cm1jx"}, "Cm1jx"),
        # As much as can be read from the left, as it stands or with a capital.
        ("Cmxxxx", 2, {"C", "Cm"}, "Cm"),
        ("dxxxx", 1, {"D"}, "D"),
        ("dmxxxx", 2, {"d", "Dm"}, "d"),
        ("dmxxxx", 2, {"Dm", "D", "DM", "DMm"}, "Dm"),
        ("yyyy", 0, set(), "C"),
        ("", 0, {"C"}, "C"),
        # Spaces count for nothing, nor in the place of the fault.
        ("C m a", 4, {"Cm", "Ca"}, "Cm"),
    ],
)
def test_what_is_tried_first(text: str, position: int, readable: set[str], nearest: str) -> None:
    """The first that can be read is offered."""
    found = nearest_symbol(text, position, suffixes=(), readable=readable.__contains__)
    assert found == nearest


@pytest.mark.parametrize("sign", "b#79m65(1)")
def test_a_likely_sign_mends_it(sign: str) -> None:
    """A flat, a sharp, the usual numbers and brackets, put in place of a faulty sign."""
    mended = f"C{sign}"
    assert nearest_symbol("C?", 1, suffixes=(), readable={mended}.__contains__) == mended


@pytest.mark.parametrize(
    ("text", "suffix", "nearest"),
    [
        ("Cmiin77", "m7", "Cmin7"),
        ("Cmiinorr7", "m7", "Cminor7"),
        ("cmiin77", "m7", "Cmin7"),
        ("EbMIIN77", "m7", "Ebmin7"),
        ("F##majjr9", "maj9", "F##major9"),
        ("Cmajjrr7", "maj7", "Cmajor7"),
        ("Cmmajoorr7", "mmaj7", "Cmmajor7"),
        ("Cminnmajj7", "mmaj7", "Cminmaj7"),
        # What looks like nothing is not offered.
        ("Czzzzzz", "m7", "C"),
    ],
)
def test_what_looks_most_alike_is_offered(text: str, suffix: str, nearest: str) -> None:
    """Suffixes are tried with the long spellings of minor and major."""
    forms = {suffix, suffix.replace("maj", "major"), suffix.replace("m", "min", 1)}
    forms |= {suffix.replace("m", "minor", 1)}
    roots = ("C", "Eb", "F##")
    readable = {f"{root}{form}" for root in roots for form in forms} | {"C"}
    found = nearest_symbol(text, len(text) - 1, suffixes=[suffix], readable=readable.__contains__)
    assert found == nearest


def test_the_likest_suffix_comes_first() -> None:
    """Of several suffixes the one that shares most with what was written."""
    suffixes = ["maj7", "maj9", "maj7#11"]
    readable = {f"C{suffix}" for suffix in suffixes}.__contains__
    assert nearest_symbol("Cmaaj77#11", 9, suffixes=suffixes, readable=readable) == "Cmaj7#11"


@pytest.mark.parametrize("text", ["Cminnajj7", "Cminorrajj7"])
def test_the_m_of_maj_is_no_minor(text: str) -> None:
    """Only the m of a minor chord has long spellings."""
    readable = {"Cminaj7", "Cminoraj7", "C"}.__contains__
    assert nearest_symbol(text, 8, suffixes=["maj7"], readable=readable) == "C"
