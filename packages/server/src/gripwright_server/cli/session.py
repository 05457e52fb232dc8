"""What one run of the command line knows: the plugins it wants, loaded when first needed."""

from __future__ import annotations

import contextlib
import functools
import sys
from typing import TYPE_CHECKING, Final

import click

import gripwright
from gripwright_server.operations.clock import local_time

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from datetime import datetime

    from gripwright.plugins import Registry

LOADING_S: Final = 30.0
"""Seconds that a plugin may take to be loaded, before it is set aside."""


class Session:
    """One run of the command line.

    Args:
        disabled: Names of the plugins that are switched off.
        quiet: Say nothing of plugins that failed.
        clock: Gives the moment, with its time zone.
    """

    def __init__(
        self,
        disabled: Iterable[str] = (),
        *,
        quiet: bool = False,
        clock: Callable[[], datetime] = local_time,
    ) -> None:
        self.now: Final = clock
        self._disabled: Final = tuple(disabled)
        self._quiet: Final = quiet

    def registry(self) -> Registry:
        """The registry, loaded at the first call; plugins that failed are named on stderr."""
        return self._loaded

    @functools.cached_property
    def _loaded(self) -> Registry:
        # Rows alone go to stdout: what a plugin prints when it is loaded is no row.
        with contextlib.redirect_stdout(sys.stderr):
            registry = gripwright.load_registry(disabled=self._disabled, time_limit_s=LOADING_S)
        if not self._quiet:
            for failure in registry.failures:
                click.echo(f"Warning: {failure}", err=True)
        return registry
