"""A client with the standard library alone: it knows HTTP and JSON, and nothing of Gripwright.

    gripwright serve --port 8000
    python http_client.py http://127.0.0.1:8000 Cmaj7

shows the first grips of a chord, page by page, and what is wrong with a symbol that none can read.
"""

import json
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from typing import Any


def answer(address: str, request: object = None) -> dict[str, Any]:
    """Ask by GET, or by POST where there is a request, and read the JSON that comes back."""
    body = None if request is None else json.dumps(request).encode()
    headers = {"Accept": "application/json", "Content-Type": "application/json"}
    asked = urllib.request.Request(address, data=body, headers=headers)
    with urllib.request.urlopen(asked, timeout=30) as response:
        found: dict[str, Any] = json.load(response)
    return found


def grips(server: str, symbol: str, pages: int) -> Iterator[dict[str, Any]]:
    """Give the grips of a chord on the treble strings, five a page."""
    page = answer(f"{server}/v1/voicings", {"symbol": symbol, "strings": [4, 3, 2, 1], "limit": 5})
    for _ in range(pages - 1):
        yield from page["voicings"]
        if page["next"] is None:
            return
        page = answer(f"{server}{page['next']}")
    yield from page["voicings"]


def fault(server: str, symbol: str) -> str:
    """Give what the server says of a symbol that it cannot read (RFC 9457)."""
    try:
        answer(f"{server}/v1/voicings", {"symbol": symbol})
    except urllib.error.HTTPError as error:
        with error:
            problem = json.load(error)
        return f"{error.code} {problem['title']}: {problem['errors'][0]['detail']}"
    return "it can be read"


def main(server: str, symbol: str) -> None:
    """Print the grips and the fault."""
    for grip in grips(server, symbol, pages=2):
        print(grip["id"], " ".join(grip["pitches"]))
    print(fault(server, f"{symbol}7"))


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else "Cmaj7")
