"""The error of files that cannot be read back."""

from __future__ import annotations

from gripwright.errors import GripwrightError


class UnreadableFileError(GripwrightError, ValueError):
    """Content that is no file of its kind, or a broken one.

    Args:
        what: What was being read, such as ``"MIDI file"``.
        reason: What is wrong, in words.
        line: Its line, counted from 1, where it has one.
        column: The name of its column, where it has one.

    Example:
        >>> print(UnreadableFileError(what="MIDI file", reason="it has no header"))
        cannot read MIDI file: it has no header
    """

    what: str
    reason: str
    line: int | None
    column: str | None

    def __init__(
        self, *, what: str, reason: str, line: int | None = None, column: str | None = None
    ) -> None:
        places = [f"line {line}"] * (line is not None) + [f"column {column!r}"] * (
            column is not None
        )
        where = f" ({', '.join(places)})" if places else ""
        super().__init__(
            f"cannot read {what}: {reason}{where}",
            what=what,
            reason=reason,
            line=line,
            column=column,
        )
