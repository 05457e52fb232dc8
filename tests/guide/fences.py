"""The code that documents show: fenced blocks of Markdown, and what a shell is told in them."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Final

import attrs

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT: Final = Path(__file__).parents[2]
"""The root of the repository."""

DOCUMENTS: Final = (
    ROOT / "README.md",
    ROOT / "DEVELOPERS.md",
    *sorted(ROOT.glob("packages/*/README.md")),
)
"""The documents whose code is tried."""

_FENCE: Final = re.compile(r"^```([a-z]+)\n(.*?)^```$", flags=re.MULTILINE | re.DOTALL)
_PROMPT: Final = "$ "


@attrs.frozen
class Fence:
    """A fenced block.

    Args:
        document: The document that shows it.
        line: The line on which it starts, counted from 1.
        language: What stands after the fence.
        text: What stands in it.
    """

    document: Path
    line: int
    language: str
    text: str

    @property
    def place(self) -> str:
        """Where it stands, for people."""
        return f"{self.document.relative_to(ROOT)}:{self.line}"


@attrs.frozen
class Command:
    """What a shell is told, and what it answers.

    Args:
        place: Where it stands.
        line: The command.
        output: The answer; empty where the document does not show it.
    """

    place: str
    line: str
    output: str


def fences(document: Path, language: str) -> Iterator[Fence]:
    """The fenced blocks of a document in one language.

    Args:
        document: The document.
        language: The language.
    """
    text = document.read_text(encoding="utf-8")
    for match in _FENCE.finditer(text):
        if match[1] == language:
            line = text.count("\n", 0, match.start()) + 1
            yield Fence(document, line, match[1], match[2])


def all_fences(language: str) -> tuple[Fence, ...]:
    """The fenced blocks of all documents in one language."""
    return tuple(fence for document in DOCUMENTS for fence in fences(document, language))


def commands() -> tuple[Command, ...]:
    """Every command of the fences ``console``, and of ``sh`` where it is ours."""
    found = []
    for fence in all_fences("console"):
        for part in re.split(r"^\$ ", fence.text, flags=re.MULTILINE)[1:]:
            line, _, output = part.partition("\n")
            found.append(Command(fence.place, line, output.rstrip("\n")))
    for fence in all_fences("sh"):
        lines = fence.text.splitlines()
        found += [Command(fence.place, line, "") for line in lines if line.startswith("gripwright")]
    return tuple(found)
