"""The conditions of a search: what a voicing must be, beyond being playable."""

from typing import TYPE_CHECKING, Any, ClassVar

import attrs

import gripwright
from gripwright_server.operations.option import option
from gripwright_server.operations.row_bound import bound_of_surface

if TYPE_CHECKING:
    from gripwright import Note, Pitch


@attrs.frozen(kw_only=True, slots=False)
class StrokeOptions:
    """What the right hand does."""

    heading: ClassVar[str] = "Right hand"

    stroke: str = option(
        help="strum mutes only what a neighbouring finger can damp",
        default="any",
        choices=("any", "strum", "pluck"),
    )
    pluck_fingers: int = option(help="fingers that pluck", default=4, ge=4, le=5)


@attrs.frozen(kw_only=True, slots=False)
class ConditionOptions(StrokeOptions):
    """Conditions on the right hand, the tones and the place on the neck."""

    heading: ClassVar[str] = "What the voicing must be"

    min_notes: int | None = option(
        help="least strings that sound; 3, or as many as the chord has tones, if fewer",
        default=None,
        ge=1,
        le=16,
    )
    max_notes: int | None = option(help="most strings that sound", default=None, ge=1, le=16)
    min_tones: int | None = option(
        help="least different tones; 3, or as many as the chord has, if fewer",
        default=None,
        ge=1,
        le=12,
    )
    root: str = option(
        help="whether the root sounds",
        default="optional",
        choices=("required", "optional", "none"),
    )
    lowest_fret: int | None = option(
        help="lowest fret of a fretted note", default=None, ge=0, le=48
    )
    highest_fret: int | None = option(
        help="highest fret of a fretted note", default=None, ge=0, le=48
    )
    strings: tuple[int, ...] | None = option(
        help="exactly these strings sound; 1 is the treble side",
        default=None,
        ge=1,
        le=16,
        form="5,4,3,2",
    )
    no_open: bool = option(help="no open strings", default=False)
    no_inner_mutes: bool = option(help="no muted string between sounding ones", default=False)
    no_doubles: bool = option(help="no tone twice", default=False)
    bass_degree: str | None = option(
        help="degree of the lowest note, such as 3 or b7", default=None, form="DEGREE"
    )
    top_note: str | None = option(
        help="highest note, such as E, or E4 in one octave", default=None, form="NOTE"
    )
    top_degree: str | None = option(help="degree of the highest note", default=None, form="DEGREE")
    as_written: bool = option(
        help="only tones of the symbol, and every essential one", default=False
    )


def conditions_of(request: ConditionOptions) -> dict[str, Any]:
    """The conditions of a request as `gripwright.find_voicings` takes them.

    Raises:
        NotationError: The top note cannot be read.

    Example:
        >>> conditions_of(ConditionOptions(top_note="E4"))["top_note"]
        Pitch(note=Note(letter='E', alteration=0), octave=4)
    """
    conditions = {
        attribute.name: getattr(request, attribute.name)
        for attribute in attrs.fields(ConditionOptions)
    }
    if request.top_note is not None:
        conditions["top_note"] = _top_note(request.top_note)
    return {**conditions, **bound_of_surface()}


def conditions_asked(request: ConditionOptions) -> dict[str, Any]:
    """Those conditions of a request that differ from the usual ones.

    For searches in which something else decides what the request leaves open.

    Raises:
        NotationError: The top note cannot be read.

    Example:
        >>> conditions_asked(ConditionOptions(max_notes=4, root="optional"))
        {'max_notes': 4}
    """
    usual = conditions_of(ConditionOptions())
    asked = conditions_of(request).items()
    return {
        **{name: value for name, value in asked if value != usual[name]},
        **bound_of_surface(),
    }


def _top_note(text: str) -> "Note | Pitch":
    """A note, which any octave satisfies, or the pitch that a text with an octave names."""
    if text[-1:].isdigit():
        return gripwright.Pitch.parse(text)
    return gripwright.Note.parse(text)
