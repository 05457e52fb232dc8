"""What one run of the command line knows: the plugins it wants, loaded when first needed."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Final

import click

import gripwright

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright.plugins import Registry


class Session:
    """One run of the command line.

    Args:
        disabled: Names of the plugins that are switched off.
        quiet: Say nothing of plugins that failed.
    """

    def __init__(self, disabled: Iterable[str] = (), *, quiet: bool = False) -> None:
        self._disabled: Final = tuple(disabled)
        self._quiet: Final = quiet

    def registry(self) -> Registry:
        """The registry, loaded at the first call; plugins that failed are named on stderr."""
        return self._loaded

    @functools.cached_property
    def _loaded(self) -> Registry:
        registry = gripwright.load_registry(disabled=self._disabled)
        if not self._quiet:
            for failure in registry.failures:
                click.echo(f"Warning: {failure}", err=True)
        return registry
