"""JSON Schema of a request, from the same declarations as its validators and its options."""

from typing import Any, Final

from gripwright_server.operations.option import RequestField, request_fields

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
"""The dialect that the schemas are written in."""

_TYPES: Final[dict[type, str]] = {bool: "boolean", float: "number", int: "integer", str: "string"}


def request_schema(request: type) -> dict[str, Any]:
    """The JSON Schema (2020-12) of a request class.

    Each property has its type, range, choices, default and description; a number with a unit
    carries it as ``x-unit``. Fields that are not declared are refused.

    Args:
        request: An attrs class whose fields are made by `option`.

    Example:
        >>> from gripwright_server.operations.voicings import VoicingsRequest
        >>> request_schema(VoicingsRequest)["properties"]["reach_mm"]["x-unit"]
        'mm'
    """
    fields = request_fields(request)
    return {
        "$schema": DIALECT,
        "title": request.__name__,
        "type": "object",
        "properties": {field.name: _property(field) for field in fields},
        "required": [field.name for field in fields if field.required],
        "additionalProperties": False,
    }


def _property(field: RequestField) -> dict[str, Any]:
    declared = field.option
    value: dict[str, Any] = {"type": _TYPES[field.base]}
    if declared.ge is not None:
        value["minimum"] = declared.ge
    if declared.le is not None:
        value["maximum"] = declared.le
    if declared.choices:
        value["enum"] = list(declared.choices)
    if field.many:
        value = {"type": "array", "items": value, "minItems": 1}
    if field.optional:
        value["type"] = [value["type"], "null"]
        if "enum" in value:
            value["enum"].append(None)
    value["description"] = declared.help
    if declared.unit:
        value["x-unit"] = declared.unit
    if not field.required:
        value["default"] = field.default
    return value
