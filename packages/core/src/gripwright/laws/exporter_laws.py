"""The laws of exporters: equal bytes for equal scores, and the score left as it was."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

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
    demand(score_document(score) == before, "the score has changed while it was written")


def reads_back_what_it_keeps(exporter: Exporter, *, score: Score) -> None:
    """Where a format has a reader, what is read is what the format keeps of the score."""
    if not isinstance(exporter, ReadingExporter):
        return
    data = written(exporter, score)
    if data is None:
        return
    read, kept = exporter.read(data, score.instrument), exporter.kept(score)
    demand(read == kept, f"it reads {shown(read)}, and was to keep {shown(kept)}")


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


def _scores(_exporter: Exporter) -> Draws:
    return {"score": scores()}


LAWS: Final = (
    Law.of("exporter", says_what_it_writes),
    Law.of("exporter", writes_bytes_or_says_why_not, _scores, share=0.4),
    Law.of("exporter", equal_scores_give_equal_bytes, _scores, share=0.2),
    Law.of("exporter", leaves_the_score_alone, _scores, share=0.2),
    Law.of("exporter", reads_back_what_it_keeps, _scores, share=0.4),
)
"""Every law of exporters."""
