"""The documentation page: the description of the service, readable, and loading nothing."""

from __future__ import annotations

import base64
import hashlib
import json
from importlib.resources import files
from typing import Any, Final

from jinja2 import Environment, StrictUndefined

from gripwright_server.http.kinds import KINDS
from gripwright_server.http.settings import LONGEST_PAGE, PAGE

_PACKAGE: Final = "gripwright_server.http"


def docs_page(document: dict[str, Any]) -> tuple[bytes, str]:
    """The page of a description, and the policy under which a browser shows it.

    The page has no script, and its style stands in it: the policy lets that style through by its
    digest, and nothing else.

    Args:
        document: The description, from `gripwright_server.http.openapi`.

    Returns:
        The page in HTML and UTF-8, and the value of Content-Security-Policy.
    """
    style = _read("docs.css")
    environment = Environment(
        autoescape=True, trim_blocks=True, lstrip_blocks=True, undefined=StrictUndefined
    )
    page = environment.from_string(_read("docs.html")).render(
        document=document,
        schemas=document["components"]["schemas"],
        operations=[
            (path, method, operation)
            for path, methods in document["paths"].items()
            for method, operation in methods.items()
        ],
        kinds=KINDS,
        page=PAGE,
        longest_page=LONGEST_PAGE,
        style=style,
        kind_of=_kind_of,
        resolved=lambda schema: _resolved(schema, document),
        examples=_EXAMPLES,
        row_of=_row_of,
        sentence=_sentence,
    )
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode("ascii")
    policy = (
        f"default-src 'none'; style-src 'sha256-{digest}'; base-uri 'none'; form-action 'none';"
        " frame-ancestors 'none'"
    )
    return page.encode(), policy


def _read(name: str) -> str:
    return files(_PACKAGE).joinpath(name).read_text(encoding="utf-8")


def _resolved(schema: dict[str, Any], document: dict[str, Any]) -> dict[str, Any]:
    """A schema, or the component that it refers to."""
    reference = schema.get("$ref")
    if reference is None:
        return schema
    name = str(reference).rpartition("/")[2]
    found: dict[str, Any] = document["components"]["schemas"][name]
    return found


def _sentence(phrase: str) -> str:
    """A phrase as a sentence.

    Example:
        >>> _sentence("fingers that press"), _sentence("Its name.")
        ('Fingers that press.', 'Its name.')
    """
    ended = phrase.endswith((".", "?")) or not phrase
    return phrase[:1].upper() + phrase[1:] + ("" if ended else ".")


def _row_of(operation: dict[str, Any]) -> str:
    """The name of the rows of an operation; empty where it answers with none."""
    content = operation["responses"]["200"]["content"]
    streamed = content.get("application/x-ndjson", {}).get("schema", {})
    return _kind_of(streamed["x-row"]) if "x-row" in streamed else ""


def _kind_of(schema: dict[str, Any]) -> str:
    """What a value may be, in a few words.

    Example:
        >>> _kind_of({"type": ["integer", "null"], "minimum": 1, "maximum": 16})
        'integer 1 to 16, or null'
        >>> _kind_of({"type": "array", "items": {"type": "string"}})
        'list of string'
    """
    if "$ref" in schema:
        return str(schema["$ref"]).rpartition("/")[2]
    if "anyOf" in schema:
        return " or ".join(map(_kind_of, schema["anyOf"]))
    if "enum" in schema:
        return ", ".join("null" if one is None else str(one) for one in schema["enum"])
    if "const" in schema:
        return json.dumps(schema["const"])
    types = schema.get("type", "any value")
    many = isinstance(types, list)
    name = str(types[0] if many else types)
    if name == "array":
        name = f"list of {_kind_of(schema['items'])}" if "items" in schema else "list"
    least, most = schema.get("minimum"), schema.get("maximum")
    if least is not None and most is not None:
        name += f" {least:g} to {most:g}"
    elif least is not None:
        name += f" from {least:g}"
    if "x-unit" in schema:
        name += f" {schema['x-unit']}"
    return f"{name}, or null" if many else name


_EXAMPLES: Final = {
    "spell": "curl 'localhost:8000/v1/spell?symbol=C%237&symbol=Dm9'",
    "name": "curl 'localhost:8000/v1/name?notes=x-7-9-7-8-x'",
    "explain": "curl 'localhost:8000/v1/explain?symbol=Cmaj7&shape=x-3-5-3-5-x'",
    "instruments": "curl localhost:8000/v1/instruments",
    "strategies": "curl 'localhost:8000/v1/strategies?chord=G7'",
    "voicings": 'curl localhost:8000/v1/voicings --json \'{"symbol": "Cmaj9", "limit": 4}\'',
    "lead": 'curl localhost:8000/v1/lead --json \'{"chart": "| Dm7 G7 | Cmaj7 |"}\'',
    "drill": "curl 'localhost:8000/v1/drill?format=midi' --json"
    ' \'{"form": "jazz-blues", "key": "F", "tempo": 80}\' -o blues.mid',
    "rhythms": "curl 'localhost:8000/v1/rhythms?meter=6%2F8'",
    "ladder": "curl 'localhost:8000/v1/ladder?rung=3'",
    "study": 'curl localhost:8000/v1/study --json \'{"symbol": "Dm7", "top": "dorian"}\'',
    "chart": "curl 'localhost:8000/v1/chart?format=svg' --json"
    ' \'{"form": "jazz-blues", "key": "F"}\' -o blues.svg',
}
