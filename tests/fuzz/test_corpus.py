"""Inputs that once broke a reader are read or refused as they should be, every time."""

from pathlib import Path

import pytest
from hypothesis import find

from tests.fuzz.corpus import CORPUS, fault_of, keep, kept
from tests.fuzz.target import Target, text_target
from tests.fuzz.targets import TARGETS


def _number(text: str) -> int:
    """A reader with a fault: it lets through what `int` raises for text that is no number."""
    if text == "odd":
        raise KeyError(text)
    return int(text)


FAULTY = text_target("faulty", _number, allowed=(KeyError,), seeds=("1", "23"), words="1 x")


@pytest.mark.parametrize("path", kept(), ids=lambda path: f"{path.parent.name}/{path.name}")
def test_a_kept_input_breaks_nothing(path: Path) -> None:
    """Each was a fault once."""
    fault = fault_of(TARGETS[path.parent.name], path.read_bytes())
    if fault is not None:
        raise fault


@pytest.mark.parametrize("target", TARGETS.values(), ids=lambda target: target.name)
def test_the_seeds_of_a_target_can_be_read(target: Target) -> None:
    """A search that began with what is refused at once would not get far."""
    for seed in target.seeds:
        fault = fault_of(target, seed)
        if fault is not None:
            raise fault


@pytest.mark.parametrize("target", TARGETS.values(), ids=lambda target: target.name)
def test_junk_is_refused_as_documented(target: Target) -> None:
    """The least that every reader must stand."""
    for junk in (
        b"",
        b"\x00",
        b"\xff\xfe",
        b"\xed\xa0\x80",
        b"(" * 5000,
        b"9" * 5000,
        "٣".encode(),
    ):
        fault = fault_of(target, junk)
        if fault is not None:
            raise fault


def test_a_fault_is_found_and_its_shortest_input_kept(tmp_path: Path) -> None:
    """The search sees what the reader lets through, once for each kind and place."""
    data = find(FAULTY.inputs(), lambda data: fault_of(FAULTY, data) is not None)
    for found in (b"xx", b"x", data, b"xxx"):
        fault = fault_of(FAULTY, found)
        assert isinstance(fault, ValueError)
        path = keep(FAULTY, found, fault, tmp_path)
    assert kept(tmp_path) == (path,)
    assert len(path.read_bytes()) <= 1


def test_what_is_allowed_is_no_fault() -> None:
    """A refusal that is documented is a right answer."""
    assert fault_of(FAULTY, b"odd") is None
    assert fault_of(FAULTY, b"12") is None


def test_each_folder_of_the_corpus_belongs_to_a_target() -> None:
    """A renamed target would leave its inputs untried."""
    assert {path.parent.name for path in kept()} <= set(TARGETS)
    assert all(path.is_dir() for path in CORPUS.iterdir())
