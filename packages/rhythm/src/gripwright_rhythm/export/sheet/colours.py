"""The colours of sheets: those of a theme, and those of time strips."""

from __future__ import annotations

from typing import Final

import attrs

from gripwright import diagram

_GREYS: Final = {"print": ("#CFCFCF", "#B8B8B8"), "light": ("#A9C9DF", "#B8B8B8")}
_DARK: Final = ("#35668A", "#4A4F57")


@attrs.frozen
class Colours:
    """The colours of a sheet, as ``#RRGGBB``.

    Short and long chords differ in lightness as well as in length, so that they differ on any
    printer.

    Args:
        theme: Those of diagrams.
        long: The body of a long chord.
        short: A short chord.
        guide: Lines that are not to be looked at.
    """

    theme: diagram.Theme
    long: str
    short: str
    guide: str

    @classmethod
    def of(cls, name: str) -> Colours:
        """The colours of a theme.

        Args:
            name: A name of `gripwright.diagram.THEMES`.

        Raises:
            UnknownNameError: There is no such theme.
        """
        theme = diagram.THEMES[name]
        long, guide = _GREYS.get(name, _DARK)
        short = theme.ink if name == "print" else theme.tone.fill
        return cls(theme, long, short, guide)

    @property
    def ink(self) -> str:
        """Texts and signs."""
        return self.theme.ink

    @property
    def faint(self) -> str:
        """Texts of less weight."""
        return self.theme.faint

    @property
    def ground(self) -> str:
        """The paper."""
        return self.theme.page
