"""The score's own JSON as a file format."""

from __future__ import annotations

from typing import ClassVar

import attrs

from gripwright.neck.instrument import Instrument
from gripwright.score.document import score_document
from gripwright.score.document_reader import read_score
from gripwright.score.score import Score


@attrs.frozen
class JsonExporter:
    """Writes a score as the JSON document that `gripwright.read_score` reads back.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> JsonExporter().export(sample_score()).splitlines()[1]
        b'  "schema": "gripwright/score/1",'
    """

    name: ClassVar[str] = "json"
    summary: ClassVar[str] = "every event with exact times, which reads back equal"
    suffixes: ClassVar[tuple[str, ...]] = (".json",)
    media_type: ClassVar[str] = "application/json"

    def export(self, score: Score, /) -> bytes:
        """Write a score; equal scores give equal bytes."""
        return score_document(score).encode("ascii")

    def read(self, data: bytes, instrument: Instrument, /) -> Score:
        """Read a score back; the document says itself what it is gripped on.

        Args:
            data: What `export` wrote.
            instrument: Not needed.

        Raises:
            ScoreError: The bytes are no such document.
        """
        del instrument
        return read_score(data.decode("ascii", errors="replace"))

    def kept(self, score: Score, /) -> Score:
        """All of a score is kept."""
        return score
