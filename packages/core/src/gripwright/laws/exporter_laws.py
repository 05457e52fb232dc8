"""The laws of exporters: equal bytes for equal scores, and the score left as it was."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from hypothesis import strategies as st

from gripwright.errors import GripwrightError
from gripwright.laws.drawing import scores
from gripwright.laws.law import Draws, Law, demand
from gripwright.plugins.kinds import ReadingExporter, shown
from gripwright.score.document import score_document
from gripwright.score.document_reader import read_score

if TYPE_CHECKING:
    from gripwright.plugins.kinds import Exporter
    from gripwright.score import Score

_SUFFIX: Final = re.compile(r"(?:\.[a-z0-9]+)+")
_MEDIA_TYPE: Final = re.compile(r"[a-z]+/[a-z0-9][a-z0-9!#$&^_.+-]*(?:; ?[a-z]+=[a-z0-9-]+)*")

_FARTHEST: Final = 100_000
_DAMAGE: Final = (
    b"",
    b"\x00",
    b"\xff\xfe",
    "\u0663".encode(),
    b"-1",
    b"/0",
    b"9" * 5000,
    b"1e999",
    b"nan",
    b'"',
    b",",
    b"\n",
    b"x" * 5000,
)
"""What breaks readers: signs that no text holds, numbers without end, signs that part fields."""


def says_what_it_writes(exporter: Exporter) -> None:
    """Its endings are small letters after a point, its media type is one (RFC 6838)."""
    demand(exporter.suffixes, "it names no ending of files")
    for suffix in exporter.suffixes:
        demand(
            _SUFFIX.fullmatch(suffix),
            f"the ending {shown(suffix)} is not written as '.mid' is",
        )
    demand(
        _MEDIA_TYPE.fullmatch(exporter.media_type),
        f"the media type {shown(exporter.media_type)} is not written as 'audio/midi' is",
    )


def writes_bytes_or_says_why_not(exporter: Exporter, *, score: Score) -> None:
    """Any score is written as bytes; what the format cannot say is refused by an error of ours."""
    written(exporter, score)


def equal_scores_give_equal_bytes(exporter: Exporter, *, score: Score) -> None:
    """A score and its copy are written alike, each time: no clock, no chance, no address."""
    copy = read_score(score_document(score))
    first, again, third = (written(exporter, one) for one in (score, copy, score))
    demand(first == again, f"a copy of the score is written otherwise{_first_unlike(first, again)}")
    demand(first == third, f"a second time it is written otherwise{_first_unlike(first, third)}")


def leaves_the_score_alone(exporter: Exporter, *, score: Score) -> None:
    """After it is written a score is what it was."""
    before = score_document(score)
    written(exporter, score)
    after = score_document(score)
    demand(
        after == before,
        lambda: (
            "the score has changed while it was written:"
            f" {_difference(json.loads(before), json.loads(after))}"
        ),
    )


def reads_back_what_it_keeps(exporter: Exporter, *, score: Score) -> None:
    """Where a format has a reader, what is read is what the format keeps of the score."""
    if not isinstance(exporter, ReadingExporter):
        half = [name for name in ("read", "kept") if hasattr(exporter, name)]
        demand(
            not half, f"it has {half[0]!r} alone: a reader has 'read' and 'kept'" if half else ""
        )
        return
    data = written(exporter, score)
    if data is None:
        return
    read, kept = exporter.read(data, score.instrument), exporter.kept(score)
    demand(read == kept, lambda: f"what it reads is not what it keeps: {_difference(kept, read)}")


def refuses_what_it_cannot_read(
    exporter: Exporter, *, score: Score, at_byte: int, taken: int, put: bytes
) -> None:
    """Where a format has a reader, a damaged file is read, or refused by an error of ours."""
    if not isinstance(exporter, ReadingExporter):
        return
    data = written(exporter, score)
    if data is None:
        return
    place = at_byte % (len(data) + 1)
    try:
        exporter.read(data[:place] + put + data[place + taken :], score.instrument)
    except GripwrightError:
        return


def written(exporter: Exporter, score: Score) -> bytes | None:
    """The file, or None where the exporter refuses the score.

    Args:
        exporter: The exporter.
        score: The score.

    Raises:
        LawBrokenError: It gives something else than bytes.

    Example:
        >>> from gripwright.score.exporter import JsonExporter
        >>> from gripwright.score.sample import sample_score
        >>> written(JsonExporter(), sample_score())[:1]
        b'{'
    """
    try:
        data: object = exporter.export(score)
    except GripwrightError:
        return None
    demand(isinstance(data, bytes), f"it gives {shown(data)}, which are no bytes")
    assert isinstance(data, bytes)  # noqa: S101 - for the type checker: the line above
    return data


def _first_unlike(one: bytes | None, other: bytes | None) -> str:
    """Where two files part, in words."""
    if one is None or other is None:
        return ": once it is refused"
    for place, (left, right) in enumerate(zip(one, other, strict=False)):
        if left != right:
            here = slice(max(0, place - 8), place + 8)
            return f" from byte {place} on: {one[here]!r} and {other[here]!r}"
    return f": {len(one)} bytes and {len(other)}"


def _difference(wanted: object, found: object, place: str = "") -> str:
    """Where two values first differ, in words; parts of rows and of mappings by their place."""
    head = f"{place}: " if place else ""
    if isinstance(wanted, Mapping) and isinstance(found, Mapping):
        if wanted.keys() == found.keys():
            unlike = next((key for key in wanted if wanted[key] != found[key]), None)
            if unlike is not None:
                name = f"{place}, {unlike}" if place else str(unlike)
                return _difference(wanted[unlike], found[unlike], name)
    elif isinstance(wanted, tuple | list) and isinstance(found, tuple | list):
        if len(wanted) != len(found):
            return f"{head}{len(found)} where there were {len(wanted)}"
        for number, (one, other) in enumerate(zip(wanted, found, strict=True), start=1):
            if one != other:
                return _difference(one, other, f"{place} {number}" if place else f"entry {number}")
    return f"{head}{_text(found)} where it was {_text(wanted)}"


def _text(value: object) -> str:
    """A value as it is read: a fraction as it is written, anything else as Python shows it."""
    return str(value) if isinstance(value, Fraction) else shown(value)


def _scores(_exporter: Exporter) -> Draws:
    return {"score": scores()}


def _damaged(_exporter: Exporter) -> Draws:
    return {
        "score": scores(),
        "at_byte": st.integers(0, _FARTHEST),
        "taken": st.integers(0, 8) | st.just(_FARTHEST),
        "put": st.sampled_from(_DAMAGE),
    }


LAWS: Final = (
    Law.of("exporter", says_what_it_writes),
    Law.of("exporter", writes_bytes_or_says_why_not, _scores, share=0.4),
    Law.of("exporter", equal_scores_give_equal_bytes, _scores, share=0.2),
    Law.of("exporter", leaves_the_score_alone, _scores, share=0.2),
    Law.of("exporter", reads_back_what_it_keeps, _scores, share=0.4),
    Law.of("exporter", refuses_what_it_cannot_read, _damaged),
)
"""Every law of exporters."""
