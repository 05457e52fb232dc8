"""The hooks that a plugin may answer, and the marks for both sides.

Each hook takes no argument and returns an iterable of immutable values. A plugin answers as many
as it likes.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Protocol

import pluggy

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright.meter.family import RhythmFamily
    from gripwright.neck.instrument import Instrument
    from gripwright.neck.recipe import VoicingStrategy
    from gripwright.plugins.kinds import Exporter

PROJECT: Final = "gripwright"
"""The name of the plugin project: of the marks, of the hooks' prefix, of the entry-point group."""

hookspec: Final = pluggy.HookspecMarker(PROJECT)

hookimpl: Final = pluggy.HookimplMarker(PROJECT)
"""Marks a plugin's function as the answer to the hook of the same name.

Example:
    >>> from gripwright import Instrument, hookimpl
    >>> @hookimpl
    ... def gripwright_instruments():
    ...     return [Instrument.from_text("D3 A3 D4", frets=12, scale_mm=500.0, id="three-string")]
"""


class Hooks(Protocol):
    """Every hook, with the type of its answer.

    Names given (an instrument's ``id``, the ``name`` of the others) are lower-case ASCII letters,
    digits and hyphens and start with a letter.

    Example:
        >>> for name in sorted(vars(Hooks)):
        ...     if name.startswith(f"{PROJECT}_"):
        ...         print(name)
        gripwright_exporters
        gripwright_instruments
        gripwright_rhythm_families
        gripwright_voicing_strategies
    """

    @hookspec
    def gripwright_instruments(self) -> Iterable[Instrument]:
        """Give instruments; they stand in `Registry.instruments` by ``id``."""

    @hookspec
    def gripwright_voicing_strategies(self) -> Iterable[VoicingStrategy]:
        """Give voicing strategies; they stand in `Registry.strategies` by ``name``."""

    @hookspec
    def gripwright_rhythm_families(self) -> Iterable[RhythmFamily]:
        """Give families of rhythm patterns; they stand in `Registry.rhythm_families`."""

    @hookspec
    def gripwright_exporters(self) -> Iterable[Exporter]:
        """Give writers of file formats; they stand in `Registry.exporters` by ``name``.

        One with a ``read`` and a ``kept`` besides (`gripwright.plugins.ReadingExporter`) is held
        to reading back what it writes.
        """
