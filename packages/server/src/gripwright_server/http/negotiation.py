"""Which form an answer takes: what the operation offers against what the client accepts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

import attrs
from werkzeug.datastructures import MIMEAccept
from werkzeug.http import parse_accept_header

from gripwright_server.formats import MEDIA
from gripwright_server.http.kinds import NOT_ACCEPTABLE, UNKNOWN
from gripwright_server.http.problem import Fault
from gripwright_server.http.routes import FORMAT
from gripwright_server.http.validation import pointer_of
from gripwright_server.operations.option import unknown_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from gripwright.plugins import Registry
    from gripwright_server.operations import Declaration

Making = Literal["document", "stream", "file", "export"]
"""How a form is made: one JSON document, rows as they come, a text, or by an exporter."""

_MAKING: Final[dict[str, Making]] = {"json": "document", "ndjson": "stream", "csv": "stream"}
_NOTES: Final = {"audio/midi", "audio/mid", "audio/x-midi"}
_USUAL: Final = "json"
_ANYTHING: Final = {"", "*/*"}


@attrs.frozen
class Form:
    """A form that an answer can take.

    Args:
        name: What the parameter ``format`` calls it.
        media_type: Its media type, with parameters.
        suffix: The ending of a file in it.
        making: How it is made.
    """

    name: str
    media_type: str
    suffix: str
    making: Making

    @property
    def essence(self) -> str:
        """The media type without parameters."""
        return self.media_type.partition(";")[0].strip()

    @property
    def sounds(self) -> bool:
        """Whether it is sound itself, and not notes to be played."""
        return self.essence.startswith("audio/") and self.essence not in _NOTES

    @property
    def shown(self) -> bool:
        """Whether a browser shows it."""
        return self.essence in {"image/svg+xml", "application/pdf", "text/plain"}


def forms_of(operation: Declaration, registry: Registry | None = None) -> tuple[Form, ...]:
    """The forms of the answers of an operation, the usual one first.

    A score comes in the formats of the exporters of the registry too, with the media type that
    each tells.

    Args:
        operation: The operation.
        registry: Gives the exporters; without it only the operation's own formats are told.

    Example:
        >>> from gripwright_server.operations.voicings import VOICINGS
        >>> [form.name for form in forms_of(VOICINGS)]
        ['json', 'ndjson', 'csv', 'svg']
    """
    own = [
        Form(name, MEDIA[name].media_type, MEDIA[name].suffix, _MAKING.get(name, "file"))
        for name in operation.formats
    ]
    if operation.scored and registry is not None:
        own += [
            Form(name, exporter.media_type, exporter.suffixes[0], "export")
            for name, exporter in sorted(registry.exporters.items())
            if name not in operation.formats
        ]
    return tuple(sorted(own, key=lambda form: form.name != _USUAL))


def chosen(forms: Sequence[Form], accept: str, asked: str | None) -> Form:
    """The form of an answer.

    Args:
        forms: What is offered, the usual one first.
        accept: The header Accept (RFC 9110, section 12.5.1); empty where there is none.
        asked: The name of a form, which goes before the header; or None.

    Raises:
        ProblemError: None of them will do.

    Example:
        >>> from gripwright_server.operations.voicings import VOICINGS
        >>> chosen(forms_of(VOICINGS), "image/*, text/csv;q=0.5", None).name
        'svg'
    """
    if asked is not None:
        for form in forms:
            if form.name == asked:
                return form
        raise _unknown(forms, asked)
    if accept in _ANYTHING or accept == forms[0].media_type:
        return forms[0]
    header = parse_accept_header(accept, MIMEAccept)
    best = header.best_match([form.essence for form in forms])
    for form in forms:
        if form.essence == best:
            return form
    raise NOT_ACCEPTABLE.error(
        "none of the media types accepted is offered", offered=_offered(forms)
    )


def _unknown(forms: Sequence[Form], asked: str) -> Exception:
    names = tuple(form.name for form in forms)
    error = unknown_name("format", asked, names)
    fault = Fault(
        detail=str(error),
        pointer=pointer_of(FORMAT),
        parameter=FORMAT,
        nearest=error.nearest or None,
    )
    return UNKNOWN.error(errors=[fault], offered=_offered(forms))


def _offered(forms: Sequence[Form]) -> list[dict[str, str]]:
    return [{"format": form.name, "media_type": form.media_type} for form in forms]
