"""The read-only mapping and its help for misspelt names."""

from collections.abc import MutableMapping

import pytest

from gripwright import UnknownNameError
from gripwright.plugins import Named

SAMPLE = Named({"guitar": 6, "baritone-a": 6, "baritone-b": 6, "bass": 4}, kind="instrument")


def test_it_is_a_mapping_in_the_order_given() -> None:
    """Lookup, order, length and membership are those of a mapping."""
    assert list(SAMPLE) == ["guitar", "baritone-a", "baritone-b", "bass"]
    assert (SAMPLE["bass"], len(SAMPLE)) == (4, 4)
    assert "guitar" in SAMPLE
    assert "gitar" not in SAMPLE
    assert SAMPLE.get("gitar") is None
    assert dict(SAMPLE) == SAMPLE


def test_it_cannot_be_changed() -> None:
    """Neither by itself nor through the mapping it was made from."""
    source = {"guitar": 6}
    named = Named(source, kind="instrument")
    source["bass"] = 4
    assert "bass" not in named
    assert not isinstance(named, MutableMapping)


@pytest.mark.parametrize(
    ("name", "nearest"),
    [
        ("gitar", ("guitar",)),
        ("GUITAR", ("guitar",)),
        ("baritone", ("baritone-a", "baritone-b")),
        ("bas", ("bass",)),
        ("zzz", ()),
        ("", ()),
        ("g" * 100_000, ()),
    ],
)
def test_an_unknown_name_brings_the_nearest(name: str, nearest: tuple[str, ...]) -> None:
    """Beginnings come before resemblances; nothing is offered where nothing is near."""
    with pytest.raises(UnknownNameError) as caught:
        SAMPLE[name]
    assert caught.value.nearest == nearest
    assert caught.value.name == name
    assert len(str(caught.value)) < 200


def test_the_hint_follows() -> None:
    """A sentence for those who ask in vain stands at the end of the message."""
    named = Named({"guitar": 6}, kind="instrument", hint="look in the shed")
    with pytest.raises(UnknownNameError, match="look in the shed"):
        named["zither"]
