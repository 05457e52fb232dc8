"""What one run of the command line knows: the plugins it wants, loaded when first needed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import attrs
import click

import gripwright

if TYPE_CHECKING:
    from gripwright.plugins import Registry


@attrs.define
class Session:
    """One run of the command line.

    Args:
        disabled: Names of the plugins that are switched off.
        quiet: Say nothing of plugins that failed, since the command shows them itself.
    """

    disabled: tuple[str, ...] = ()
    quiet: bool = False
    _loaded: Registry | None = None

    def registry(self) -> Registry:
        """The registry, loaded at the first call; plugins that failed are named on stderr."""
        if self._loaded is None:
            self._loaded = gripwright.load_registry(disabled=self.disabled)
            if not self.quiet:
                for failure in self._loaded.failures:
                    click.echo(f"Warning: {failure}; it is left out", err=True)
        return self._loaded
