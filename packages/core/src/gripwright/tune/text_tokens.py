"""The tokens of the text of a chart: what stands in a line, and where."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

# Words and signs end where a space, a bar line or the line does.
_END: Final = r"(?=[\s|]|:\||$)"

_RULES: Final = {
    "line": r":?\|{1,2}:?(?:\s*(?P<passes>[0-9]{1,2}(?:[,-][0-9]{1,2})*)\.)?",
    "section": r"\[(?P<name>[^\[\]|]*)\]",
    "hits": r"\{(?P<places>[^{}|]*)\}",
    "held": r"<(?P<chord>[^<>|\s]+)>(?:@(?P<at>[^\s|{}<>:]*))?",
    "broken": r"[\[{<][^|]*",
    "to_coda": rf"(?i:to\s+(?:coda|𝄌)){_END}",
    "segno": rf"(?i:segno|𝄋){_END}",
    "coda": rf"(?i:coda|𝄌){_END}",
    "fine": rf"(?i:fine){_END}",
    "jump": r"(?i:d\.\s?(?P<back>[cs])\.?|d(?P<plain>[cs]))"
    rf"(?:\s+(?i:al)\s+(?i:(?P<goal>fine|coda)))?{_END}",
    "times": rf"(?i:x\s?(?P<count>[0-9]{{1,3}})|(?P<open>open)){_END}",
    "meter": rf"[0-9][0-9+]*/[0-9]+{_END}",
    "beats": rf"/+{_END}",
    "same": rf"[%𝄎]{_END}",
    "none": rf"(?i:n\.\s?c\.?|nc)(?:@(?P<place>[^\s|{{}}<>:]*))?{_END}",
    "symbol": r"[^\s|{}<>:]+",
    "stray": r"\S",
}
_TOKEN: Final = re.compile(
    r"\s*(?:" + "|".join(f"(?P<{kind}>{rule})" for kind, rule in _RULES.items()) + ")"
)


class Token(NamedTuple):
    """A token of a line.

    Args:
        kind: The name of its rule.
        text: The token as written.
        column: Its first character, counted from 1.
        match: What the rule found in it.
    """

    kind: str
    text: str
    column: int
    match: re.Match[str]


def tokens_of(line: str) -> Iterator[Token]:
    """Split a line of bars into its tokens.

    Args:
        line: The line, without its comment.

    Returns:
        The tokens from left to right.

    Example:
        >>> [(token.kind, token.text) for token in tokens_of("|: Dm7 G7@3.5 :|2. N.C. Fine")][2:5]
        [('symbol', 'G7@3.5'), ('line', ':|2.'), ('none', 'N.C.')]
    """
    place = 0
    line = line.rstrip()
    while place < len(line):
        match = _TOKEN.match(line, place)
        if match is None:  # pragma: no cover - "stray" takes whatever is left
            break
        # The group of a rule closes after those inside it, so that it is the last.
        kind = match.lastgroup or "stray"
        yield Token(kind, match[kind], match.start(kind) + 1, match)
        place = match.end()
