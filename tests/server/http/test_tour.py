"""The tour of the README by a client that knows only HTTP and JSON: curl and jq."""

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.server.http.live import LiveServer

pytestmark = pytest.mark.system


def _shell(live: LiveServer, folder: Path, line: str) -> str:
    bash = shutil.which("bash")
    assert bash is not None
    asked = line.replace("localhost:8000", f"localhost:{live.port}")
    text = f"set -euo pipefail; cd '{folder}'; {asked}"
    return subprocess.run(
        [bash, "-c", text], check=True, capture_output=True, text=True, timeout=120
    ).stdout


SYMBOL = "curl -sS 'localhost:8000/v1/spell?symbol=C%237' | jq -c '.chords[0].notes'"
SEARCH = """curl -sS localhost:8000/v1/voicings --json \\
    '{"symbol": "Cmaj7", "strings": [5, 4, 3, 2], "no_open": true}' | jq -r '.voicings[0].id'"""
STREAM = """curl -sS localhost:8000/v1/voicings -H 'Accept: application/x-ndjson' \\
    --json '{"symbol": "Cmaj7", "strategy": "drop-2"}' | tail -1"""
LINE = """curl -sS localhost:8000/v1/lead --json '{"chart": "| Dm7 | G7 | Cmaj7 |"}' \\
    | jq -c '.lines[0].top_line | length'"""
PAGE = """curl -sS 'localhost:8000/v1/chart?format=svg' -OJ \\
    --json '{"form": "jazz-blues", "key": "F"}' && head -c 4 chart-jazz-blues-*.svg"""
MIDI = """curl -sS 'localhost:8000/v1/drill?format=midi' -o blues.mid \\
    --json '{"form": "jazz-blues", "key": "F"}' && head -c 4 blues.mid"""
FAULT = "curl -sS 'localhost:8000/v1/spell?symbol=Cmaj77' | jq -c '.errors[0].position'"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (SYMBOL, '["C#","E#","G#","B"]'),
        (SEARCH, "guitar:x-3-5-4-5-x"),
        (STREAM, '{"end":true,"count":96}'),
        (LINE, "3"),
        (PAGE, "<svg"),
        (MIDI, "MThd"),
        (FAULT, "5"),
    ],
    ids=["symbol", "search", "stream", "line", "page", "midi", "fault"],
)
def test_tour(live: LiveServer, tmp_path: Path, line: str, expected: str) -> None:
    """Each line gives what the README says."""
    assert _shell(live, tmp_path, line).strip() == expected


def test_client_is_made_from_the_description(live: LiveServer, tmp_path: Path) -> None:
    """The path, the method and the fields of the search stand in the document alone."""
    line = """
    curl -sS localhost:8000/v1/openapi.json > api.json
    jq -e '.openapi == "3.1.0"' api.json > /dev/null
    path=$(jq -r '.paths | to_entries[]
        | select(.value.post.operationId == "voicings") | .key' api.json)
    fields=$(jq -r '.components.schemas.VoicingsRequest.required[0]' api.json)
    most=$(jq -r '.components.schemas.VoicingsRequest.properties.limit.maximum' api.json)
    jq -n --arg name "$fields" --argjson most "$most" '{($name): "G13", limit: $most}' > asked.json
    address=$path; count=0
    page=$(curl -sS "localhost:8000$address" --json @asked.json)
    while :; do
        count=$((count + $(jq '.returned' <<< "$page")))
        next=$(jq -r '.next' <<< "$page")
        [ "$next" != null ] || break
        page=$(curl -sS "localhost:8000$next")
    done
    [ "$count" = "$(jq '.count' <<< "$page")" ] && echo whole
    """
    assert _shell(live, tmp_path, line).strip() == "whole"
