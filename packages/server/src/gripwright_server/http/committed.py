"""The committed copy of the description, so that a change of the surface is seen in review.

Make it anew with ``python -m gripwright_server.http.committed``.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Final

from gripwright_server.http.openapi import openapi_document
from gripwright_server.http.surface import Surface
from gripwright_server.operations import OPERATIONS

COMMITTED: Final = Path(__file__).with_name("openapi.json")
"""The file."""


def committed_text() -> str:
    """The text of the file, as it should be now."""
    document = openapi_document([Surface(operation) for operation in OPERATIONS])
    return f"{json.dumps(document, indent=1)}\n"


if __name__ == "__main__":
    COMMITTED.write_text(committed_text(), encoding="ascii")
    sys.stdout.write(f"written: {COMMITTED}\n")
