"""Pictures for people: how the answer of an operation is drawn.

Each operation that has the format svg has a module here under its own name, whose ``picture`` goes
from the request and the result to a document.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Callable

    from attrs import AttrsInstance

    from gripwright_server.operations import Declaration, Result


def picture_of(operation: Declaration, request: AttrsInstance, result: Result) -> str:
    """The picture of an answer, as an SVG document.

    The module is loaded here and not before: diagrams need NumPy, which spelling must not load.

    Args:
        operation: The operation.
        request: Its request, which says how the picture looks.
        result: Its answer.
    """
    module = importlib.import_module(f"{__name__}.{operation.module}")
    picture = cast("Callable[[AttrsInstance, Result], str]", module.picture)
    return picture(request, result)


def document_of(operation: Declaration, request: AttrsInstance, result: Result) -> bytes:
    """The pages of an answer as a PDF document, from ``document`` in the same module.

    Args:
        operation: The operation.
        request: Its request, which says how the pages look.
        result: Its answer.
    """
    module = importlib.import_module(f"{__name__}.{operation.module}")
    document = cast("Callable[[AttrsInstance, Result], bytes]", module.document)
    return document(request, result)
