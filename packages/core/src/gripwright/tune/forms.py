"""The generic forms of the trade, as numerals: blues, 32 bars, turnarounds, cadences, intros."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from importlib.resources import files
from typing import Final, Literal, get_args

import attrs

from gripwright.named import Named

FormKind = Literal["form", "turnaround", "cadence", "intro", "ending"]
"""What a form is for."""

FORM_KINDS: Final = get_args(FormKind)


@attrs.frozen
class Form:
    """A form that belongs to nobody, in no key.

    Args:
        name: Its name, such as ``"jazz-blues"``.
        kind: What it is for.
        summary: What it is, in one sentence.
        minor: Whether it stands in a minor key.
        text: A chart of numerals.

    Example:
        >>> form = forms()["minor-blues"]
        >>> form.kind, form.minor
        ('form', True)
    """

    name: str
    kind: FormKind
    summary: str
    minor: bool
    text: str


@functools.cache
def forms() -> Mapping[str, Form]:
    """Give every form by its name, whole forms first.

    Returns:
        A read-only mapping; an unknown name raises `UnknownNameError`.

    Example:
        >>> print(forms()["basic-blues"].text)
        | I7 | % | % | % |
        | IV7 | % | I7 | % |
        | V7 | IV7 | I7 | V7 |
    """
    text = files("gripwright.tune").joinpath("forms.toml").read_text(encoding="utf-8")
    rows = (
        Form(
            name=row["name"],
            kind=row["kind"],
            summary=row["summary"],
            minor=row.get("minor", False),
            text=row["text"].strip(),
        )
        for row in tomllib.loads(text)["form"]
    )
    return Named({form.name: form for form in rows}, kind="form")
