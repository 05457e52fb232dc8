"""Scores as MusicXML 4.0, which any notation program opens."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, get_args

import attrs

from gripwright.errors import ConditionError
from gripwright_rhythm.export.musicxml.notation import Notation

if TYPE_CHECKING:
    from gripwright import Score


@attrs.frozen
class MusicXmlExporter:
    """Writes a MusicXML 4.0 partwise document in UTF-8.

    Durations are exact: a quarter has as many divisions as the score needs. Swing is written
    straight, with its ratio as a sound. Chords are tied over bars and beats; a chord that is short
    by a fraction is written to the next beat with a dot, and its release says the rest (MusicXML
    4.0, note). What sounds beside the chords, and the clicks, are parts of their own. Choruses
    that look alike are written once. A course is one line and one note, as players read it.

    Args:
        notation: ``"tablature"``, notes with tablature beneath; ``"notes"`` alone; or
            ``"slashes"`` that show the rhythm.
        frames: Whether a neck diagram stands with a chord symbol where the grip changes.
        repeats: Whether choruses that look alike are written once, with repeats and endings.
        count_in: Whether the count-in is written in bars; if not, words say how long it is, and
            bars are written only from where something is played.
        clicks: Whether the clicks are written.

    Raises:
        ConditionError: A notation that is none of the three.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> text = MusicXmlExporter().export(sample_score()).decode()
        >>> '<score-partwise version="4.0">' in text
        True
    """

    name: ClassVar[str] = "musicxml"
    summary: ClassVar[str] = "MusicXML 4.0: chord symbols, notes and tablature, or slashes"
    suffixes: ClassVar[tuple[str, ...]] = (".musicxml", ".xml")
    media_type: ClassVar[str] = "application/vnd.recordare.musicxml+xml"

    notation: Notation = attrs.field(default="tablature")
    frames: bool = True
    repeats: bool = True
    count_in: bool = False
    clicks: bool = True

    @notation.validator
    def _check_notation(self, _attribute: object, value: str) -> None:
        if value not in get_args(Notation):
            raise ConditionError(
                name="notation", value=value, expected="tablature, notes or slashes"
            )

    def export(self, score: Score, /) -> bytes:
        """Write a score.

        Args:
            score: The score.

        Returns:
            The file; equal for equal scores.

        Raises:
            ConditionError: What MusicXML cannot hold: times so fine that a bar has more
                than 2**31 divisions, pitches outside octaves 0 to 9, swing of other
                notes than eighths and sixteenths, or times that swing cannot be taken out of.
        """
        # Late on purpose: plugins are loaded without what their formats need.
        from gripwright_rhythm.export.musicxml.document import write_document  # noqa: PLC0415

        return write_document(score, self)
