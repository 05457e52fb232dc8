"""The grammar of chord symbols, read from `symbol.toml`.

It turns signs into ASCII and words into one spelling each, and knows the modifiers.
"""

from __future__ import annotations

import functools
import re
import tomllib
from collections.abc import Iterator, Sequence
from importlib.resources import files
from typing import Any, Final, cast

import attrs

from gripwright.theory.degree import Degree
from gripwright.theory.modifier import Modifier, ModifierKind

_PLAIN: Final = re.compile(r"[A-Za-z0-9#+/(),-]*")


@attrs.frozen
class Grammar:
    """The grammar of `symbol.toml`, compiled.

    Args:
        signs: Signs, each with the ASCII that it stands for.
        scan: Words and marks of a suffix, one named group a rule.
        canonical: What each rule's match becomes.
        modifier: The modifiers, one named group a kind.
        tones: Tones under another name, and the degrees that they mean.
        literal: Qualities read in place of others when stacks are literal.
        dim_is_dim7: Qualities read in place of others when ``dim`` means a seventh chord.
        suffix_warnings: Patterns of suffixes that some read otherwise, and what to say.
        root_warning_patterns: The same for roots.
    """

    signs: dict[str, str]
    scan: re.Pattern[str]
    canonical: dict[str | None, str]
    modifier: re.Pattern[str]
    tones: dict[str, str]
    literal: dict[str, str]
    dim_is_dim7: dict[str, str]
    suffix_warnings: tuple[tuple[re.Pattern[str], str], ...]
    root_warning_patterns: tuple[tuple[re.Pattern[str], str], ...]

    def flatten(self, text: str) -> tuple[str, Sequence[int]]:
        """The text with signs in ASCII and without spaces, and where each character came from.

        A space between two digits separates them, as a comma does.
        """
        if _PLAIN.fullmatch(text):
            return text, range(len(text))
        flat: list[str] = []
        places: list[int] = []
        for place, character in enumerate(text):
            if character.isspace():
                continue
            after_space = text[:place][-1:].isspace()
            for sign in self.signs.get(character, character):
                if after_space and flat and flat[-1].isdigit() and sign.isdigit():
                    flat.append(",")
                    places.append(place)
                flat.append(sign)
                places.append(place)
        return "".join(flat), places

    def normalise(self, suffix: str) -> tuple[str, list[int]]:
        """A flat suffix with its words in one spelling, and where each character came from."""
        parts: list[str] = []
        places: list[int] = []
        for match in self.scan.finditer(suffix):
            part = self.canonical.get(match.lastgroup, match[0])
            parts.append(part)
            places += [match.start()] * len(part)
        return "".join(parts), places

    def modifiers(self, match: re.Match[str]) -> Iterator[Modifier]:
        """What a match of `modifier` does to a quality."""
        kind = cast("str", match.lastgroup)
        tone = match[kind]
        if kind == "suspend":
            for number in (tone or "4").replace("/", ""):
                yield Modifier("suspend", Degree(number))
        else:
            tone = self.tones.get(tone, tone) if kind != "omit" else tone
            yield Modifier(cast("ModifierKind", kind.replace("natural", "add")), Degree(tone))

    def warnings(self, suffix: str) -> Iterator[str]:
        """What to say of a suffix; ``{root}`` stands for the root."""
        return (text for pattern, text in self.suffix_warnings if pattern.search(suffix))

    def root_warnings(self, flat: str) -> tuple[str, ...]:
        """What to say of the root of a flat symbol."""
        return tuple(
            text.format(
                root=match[0],
                near=match[1],
                sign=match[2],
                number=re.match("[0-9]+", flat[match.end() :])[0],  # type: ignore[index]
            )
            for pattern, text in self.root_warning_patterns
            if (match := pattern.match(flat))
        )


@functools.cache
def grammar() -> Grammar:
    """The library's own grammar."""
    text = files("gripwright.theory").joinpath("symbol.toml").read_text(encoding="utf-8")
    data: dict[str, Any] = tomllib.loads(text)
    rules = [(f"(?i:{pattern})", word) for pattern, word in data["words"].items()]
    rules += data["marks"].items()
    names = [f"r{index}" for index in range(len(rules))]
    alternatives = [f"(?P<{name}>{rule[0]})" for name, rule in zip(names, rules, strict=True)]
    return Grammar(
        signs=data["signs"],
        scan=re.compile("|".join([*alternatives, "."]), re.DOTALL),
        canonical={name: rule[1] for name, rule in zip(names, rules, strict=True)},
        modifier=re.compile("|".join(data["modifiers"].values())),
        tones=data["tones"],
        literal=data["options"]["literal"],
        dim_is_dim7=data["options"]["dim_is_dim7"],
        suffix_warnings=tuple(
            (re.compile(rule["pattern"]), rule["text"]) for rule in data["warning"]
        ),
        root_warning_patterns=tuple(
            (re.compile(rule["pattern"]), rule["text"]) for rule in data["root_warning"]
        ),
    )
