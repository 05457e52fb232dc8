"""Files: how a score is drawn and rendered, where an exporter has a setting of that name."""

from typing import ClassVar

import attrs

from gripwright_server.operations.option import option
from gripwright_server.operations.picture import LABELS, PAPERS, THEMES


@attrs.frozen(kw_only=True, slots=False)
class FileOptions:
    """What files look and sound like; a format without such a setting leaves it aside."""

    heading: ClassVar[str] = "Files"

    paper: str = option(help="the paper of a sheet", default=PAPERS[0], choices=PAPERS)
    grips: str = option(
        help="grips on a sheet: drawn; none, to read cold; or overleaf, none on the first page and"
        " drawn on the one after",
        default="drawn",
        choices=("drawn", "none", "overleaf"),
    )
    label: str = option(help="what the dots of a grip carry", default=LABELS[0], choices=LABELS)
    left_handed: bool = option(help="mirror grips for a left-handed player", default=False)
    theme: str = option(
        help="colours of a sheet; print is black on white", default=THEMES[2], choices=THEMES
    )
    notation: str = option(
        help="what MusicXML shows: notes with tablature, notes alone, or slashes in rhythm",
        default="tablature",
        choices=("tablature", "notes", "slashes"),
    )
    strum_ms: float = option(
        help="how long a strum takes from its first string to its last, in MIDI and sound",
        default=0.0,
        ge=0,
        le=200,
        unit="ms",
    )
