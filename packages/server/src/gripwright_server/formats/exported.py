"""Files by the exporters of the registry, with the settings that a request has for them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol, runtime_checkable

import attrs

from gripwright.errors import ConditionError
from gripwright_server.operations.file_options import FileOptions
from gripwright_server.operations.player import HandOptions, hand_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gripwright import Score
    from gripwright.plugins import Exporter
    from gripwright_server.operations import Result


@runtime_checkable
class _ForMany(Protocol):
    """An exporter that holds several scores in one file."""

    def export_all(self, scores: Sequence[Score], /) -> bytes:
        """Write scores one after the other."""


def exported(exporter: Exporter, request: object, result: Result) -> bytes:
    """A file of the score or scores of an answer.

    A field of `FileOptions` that has the name of a setting of the exporter sets it.

    Args:
        exporter: The exporter.
        request: The request.
        result: An answer with a score.

    Raises:
        ConditionError: There are several scores and the format holds one; or what the exporter
            refuses.
    """
    scores: tuple[Score, ...] = getattr(result, "scores", None) or (result.score,)  # type: ignore[attr-defined]
    writer = configured(exporter, request)
    if len(scores) == 1:
        return writer.export(scores[0])
    if not isinstance(writer, _ForMany):
        raise ConditionError(
            name="apart" if getattr(request, "apart", False) else "also",
            value=True,
            expected=f"a format that holds several scores, such as pdf: {exporter.name} holds one",
        )
    return writer.export_all(scores)


def configured(exporter: Exporter, request: object) -> Exporter:
    """The exporter with those of its settings that a request has.

    Args:
        exporter: The exporter; one that is no attrs value has no settings.
        request: The request.
    """
    kind: Any = type(exporter)
    if not attrs.has(kind) or not isinstance(request, FileOptions):
        return exporter
    known = attrs.fields_dict(kind)
    names = (field.name for field in attrs.fields(FileOptions))
    settings: dict[str, Any] = {name: getattr(request, name) for name in names if name in known}
    if isinstance(request, HandOptions) and "hand" in known:
        settings["hand"] = hand_of(request)
    changed: Exporter = attrs.evolve(exporter, **settings)  # type: ignore[misc]
    return changed
