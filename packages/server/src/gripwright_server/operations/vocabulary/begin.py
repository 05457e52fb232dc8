"""The beginning of a vocabulary, and the player's profile, as operations."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Final

import attrs

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright.neck.hand import Hand
from gripwright.vocabulary import Profile
from gripwright_rhythm.ladder import RUNGS
from gripwright_rhythm.ladder import rung as rung_of
from gripwright_server.operations.option import option
from gripwright_server.operations.player import InstrumentOptions, instrument_of
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.operations.vocabulary.entry_row import EntriesResult, EntryRow
from gripwright_server.operations.vocabulary.ladder import moved
from gripwright_server.store import begin as begin_store

if TYPE_CHECKING:
    from gripwright.neck.instrument import Instrument

_BANDS: Final = ("none", "solo", "bass", "piano", "singer")
_HANDED: Final = ("right", "left")
_STROKES: Final = ("any", "strum", "pluck")


@attrs.frozen(kw_only=True, slots=False)
class ProfileOptions:
    """What stays the same from day to day; what is left out stays as it is."""

    heading: ClassVar[str] = "The player"

    instrument: str | None = option(
        help="an instrument by its id, or its open strings as strung from the bass side; guitar"
        " at first",
        default=None,
        names="instruments",
        form="ID|STRINGS",
    )
    frets: int | None = option(help="frets of that instrument", default=None, ge=1, le=48)
    scale_mm: float | None = option(
        help="length of its longest string", default=None, ge=1, le=5000, unit="mm"
    )
    capo: int | None = option(help="fret of its capo", default=None, ge=0, le=47)
    fingers: int | None = option(
        help="fingers of the fretting hand; 4 at first", default=None, ge=1, le=5
    )
    reach_mm: float | None = option(
        help="how far apart along the neck the fretted notes may lie; 115 mm at first",
        default=None,
        ge=0,
        le=1000,
        unit="mm",
    )
    handed: str | None = option(
        help="which way diagrams stand: a left-handed player's in a mirror",
        default=None,
        choices=_HANDED,
    )
    stroke: str | None = option(
        help="what the other hand does; any at first", default=None, choices=_STROKES
    )
    band: str | None = option(
        help="who else plays, which says what is left to the guitar", default=None, choices=_BANDS
    )
    rung: int | None = option(
        help="the rung of the ladder on which you stand; the command ladder shows them; 1 at first",
        default=None,
        ge=1,
        le=len(RUNGS),
    )
    part: int | None = option(
        help="which drill of the rung, in their order; the first of another rung",
        default=None,
        ge=1,
        le=99,
    )
    tempo: float | None = option(
        help="beats a minute of that drill; 60 at first", default=None, ge=2, le=800
    )


@attrs.frozen(kw_only=True, slots=False)
class BeginRequest(ProfileOptions):
    """A player, who begins a vocabulary."""

    bare: bool = option(help="begin without the starter set", default=False)


@attrs.frozen(kw_only=True, slots=False)
class ProfileRequest(ProfileOptions):
    """What changes of a profile."""


@attrs.frozen(kw_only=True)
class ProfileRow:
    """A row: the player's profile.

    Args:
        instrument: The instrument.
        instrument_name: What people call it.
        strings: Its open pitches as strung, from the bass side.
        frets: Its frets.
        fingers: Fingers of the fretting hand.
        reach_mm: Its reach along the neck, in mm.
        left_handed: Whether diagrams stand in a mirror.
        stroke: What the other hand does.
        band: Who else plays, or None.
        rung: The rung of the ladder on which the player stands.
        part: Which of its drills.
        tempo: Beats a minute of that drill.
    """

    instrument: str
    instrument_name: str
    strings: tuple[str, ...]
    frets: int
    fingers: int
    reach_mm: float
    left_handed: bool
    stroke: str
    band: str | None
    rung: int
    part: int
    tempo: float


@attrs.frozen
class ProfileResult:
    """The profile.

    Args:
        profile: The profile.
    """

    profile: Profile

    @property
    def count(self) -> int:
        """One."""
        return 1

    @property
    def returned(self) -> int:
        """One."""
        return 1

    @property
    def warnings(self) -> tuple[str, ...]:
        """Nothing."""
        return ()

    def rows(self) -> Iterator[ProfileRow]:
        """The profile."""
        profile = self.profile
        yield ProfileRow(
            instrument=profile.instrument.id,
            instrument_name=profile.instrument.name,
            strings=tuple(str(string.open) for string in profile.instrument.strings),
            frets=profile.instrument.frets,
            fingers=profile.hand.fingers,
            reach_mm=round(float(profile.hand.reach_mm), 1),
            left_handed=profile.left_handed,
            stroke=profile.stroke,
            band=profile.band,
            rung=profile.ladder.rung,
            part=profile.ladder.part,
            tempo=round(float(profile.ladder.tempo_bpm), 3),
        )


def begin(request: BeginRequest, desk: Desk) -> EntriesResult:
    """Keep the player's profile, and add the starter set of the instrument.

    Raises:
        UnknownNameError: No instrument has that name.
        NotationError: The open strings cannot be read.
        ConditionError: The neck has no room for what is asked.
        StoreError: The store cannot be written.
    """
    # A first look, so that a request that is refused leaves no file behind.
    if not desk.path.exists():
        _profile(request, None, desk)
    with desk.new_store() as store:
        profile = _profile(request, store.profile(), desk)
        before = set(store.names())
        if request.bare:
            store.keep_profile(profile)
        else:
            begin_store(store, profile, desk.now)
        new = tuple(entry for entry in store.entries() if entry.id not in before)
        return EntriesResult(new, told={"store": str(store.path)})


def profile(request: ProfileRequest, desk: Desk) -> ProfileResult:
    """Show the profile, with what the request changes of it.

    Raises:
        UnknownNameError: No instrument has that name.
        NotationError: The open strings cannot be read.
        ConditionError: There is no profile yet, or the neck has no room for what is asked.
        StoreError: The store cannot be read or written.
    """
    with desk.store() as store:
        before = store.profile()
        after = _profile(request, before, desk)
        return ProfileResult(after if after == before else store.keep_profile(after))


def _profile(request: ProfileOptions, before: Profile | None, desk: Desk) -> Profile:
    instrument = _instrument(request, None if before is None else before.instrument, desk)
    hand = Hand() if before is None else before.hand
    given: dict[str, Any] = {"fingers": request.fingers, "reach_mm": request.reach_mm}
    hand = attrs.evolve(hand, **{name: one for name, one in given.items() if one is not None})
    known = Profile(instrument) if before is None else before
    changes: dict[str, Any] = {"instrument": instrument, "hand": hand}
    if request.handed is not None:
        changes["left_handed"] = request.handed == "left"
    if request.stroke is not None:
        changes["stroke"] = request.stroke
    if request.band is not None:
        changes["band"] = None if request.band == "none" else request.band
    changes["ladder"] = moved(
        known.ladder, rung=request.rung, part=request.part, tempo=request.tempo
    )
    if changes["ladder"] != known.ladder:
        # In common time, in which every rung makes sense.
        rung_of(changes["ladder"].rung).part(changes["ladder"].part, Meter())
    return attrs.evolve(known, **changes)


def _instrument(request: ProfileOptions, before: "Instrument | None", desk: Desk) -> "Instrument":
    given: dict[str, Any] = {
        name: value
        for name in ("frets", "scale_mm", "capo")
        if (value := getattr(request, name)) is not None
    }
    if request.instrument is None and before is not None:
        for name, value in given.items():
            raise ConditionError(name=name, value=value, expected="the instrument beside it")
        return before
    if request.instrument is not None:
        given["instrument"] = request.instrument
    return instrument_of(InstrumentOptions(**given), desk.registry())


BEGIN: Final = StoreOperation(
    name="begin",
    summary="Begin a vocabulary: the player's profile and a starter set of grips",
    collection="entries",
    request=BeginRequest,
    function=begin,
    result=EntriesResult,
    row=EntryRow,
    formats=("json", "ndjson", "csv"),
    writes=True,
)
"""The beginning as an operation."""

PROFILE: Final = StoreOperation(
    name="profile",
    summary="Show the player's profile, or change it",
    collection="profile",
    request=ProfileRequest,
    function=profile,
    result=ProfileResult,
    row=ProfileRow,
    writes=True,
)
"""The profile as an operation."""
