"""Qualities under modifiers: degrees, and the groups of tones that a voicing must have.

Degrees as jazz theory handbooks give them (common practice); which tones are essential is the rule
of the library: the third, the seventh and what is named, or the groups of the quality itself.
"""

from __future__ import annotations

from typing import cast

import pytest

from gripwright import Degree
from gripwright.theory import QUALITIES
from gripwright.theory.modifier import Modifier, ModifierKind, tones_of


def _modifier(text: str) -> Modifier:
    kind, _, tone = text.partition(" ")
    return Modifier(cast("ModifierKind", kind), Degree(tone))


@pytest.mark.parametrize(
    ("name", "modifiers", "degrees", "groups"),
    [
        ("", ["add 6"], "1 3 5 6", "3 6"),
        ("7", ["add 6"], "1 3 5 b7 13", "3 b7 13"),
        ("maj7", ["add 6"], "1 3 5 7 13", "3 7 13"),
        ("9", ["alter b9"], "1 3 5 b7 b9", "3 b7 b9"),
        ("9", ["alter b9", "alter #9"], "1 3 5 b7 b9 #9", "3 b7 b9 #9"),
        ("9", ["suspend 2"], "1 2 5 b7", "2 b7"),
        ("11", ["suspend 4"], "1 4 5 b7 9", "4 b7"),
        ("7", ["suspend 4", "add 3"], "1 3 4 5 b7", "3 4 b7"),
        ("13", ["omit 5"], "1 3 b7 9 13", "3 b7 13"),
        ("dim7", ["add 9"], "1 b3 b5 bb7 9", "1/b5 b3 bb7 9"),
        ("dim7", ["omit 5"], "1 b3 bb7", "1 b3 bb7"),
        ("5", ["suspend 4"], "1 4 5", "1 4 5"),
        ("5", ["add 9"], "1 5 9", "1 5 9"),
        ("5", ["omit 1", "omit 5"], "", ""),
        ("7alt", ["add 13"], "1 3 b5 #5 b7 b9 #9 13", "3 b5/#5 b7 b9/#9 13"),
        ("7alt", ["alter b9"], "1 3 b5 #5 b7 b9 #9", "3 b5/#5 b7 b9"),
        ("7alt", ["omit 9"], "1 3 b5 #5 b7", "3 b5/#5 b7"),
    ],
)
def test_degrees_and_groups(name: str, modifiers: list[str], degrees: str, groups: str) -> None:
    """A slash joins the tones of which a voicing needs one."""
    found, needed = tones_of(QUALITIES[name], [_modifier(text) for text in modifiers])
    assert " ".join(found) == degrees
    assert " ".join("/".join(group) for group in needed) == groups
