"""Pictures: how an answer is drawn where it is asked for as one."""

from typing import ClassVar, Final

import attrs

from gripwright_server.operations.option import option

LABELS: Final = ("degree", "note", "finger", "interval", "none")
"""What the dots of a neck diagram can carry, as `gripwright.neck.diagram` names it."""

THEMES: Final = ("light", "dark", "print")
"""The colours of a picture, as `gripwright.neck.diagram` names them."""


PAPERS: Final = ("a4", "letter")
"""The papers of a sheet."""


@attrs.frozen(kw_only=True, slots=False)
class PictureOptions:
    """What a picture looks like; the other formats leave these aside."""

    heading: ClassVar[str] = "Pictures (format svg)"

    label: str = option(help="what the dots carry", default=LABELS[0], choices=LABELS)
    left_handed: bool = option(help="mirror the neck for a left-handed player", default=False)
    theme: str = option(help="colours; print is black on white", default=THEMES[0], choices=THEMES)
    keyboard: bool = option(
        help="beside each neck the same tones on a piano keyboard, in close position and as"
        " gripped",
        default=False,
    )


@attrs.frozen(kw_only=True, slots=False)
class PageOptions:
    """What a page to read from looks like; the other formats leave it aside."""

    heading: ClassVar[str] = PictureOptions.heading

    theme: str = option(help="colours; print is black on white", default=THEMES[2], choices=THEMES)
