"""The plugin: gives the instruments of ``instruments.toml``."""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING

from gripwright import hookimpl
from gripwright_tunings.definitions import read_instruments

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright import Instrument


@hookimpl
def gripwright_instruments() -> Iterable[Instrument]:
    """Give the usual instruments, guitars first."""
    text = files("gripwright_tunings").joinpath("instruments.toml").read_text(encoding="utf-8")
    return read_instruments(text)
