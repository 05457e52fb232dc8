"""Entries: adding, listing, showing, changing and removing them, as operations."""

from typing import ClassVar, Final

import attrs

from gripwright.theory.chord import Chord
from gripwright.vocabulary import Entry, category_in_words, grip_for, question, serves
from gripwright_server.operations.grip import frets_of
from gripwright_server.operations.operation import NothingFoundError, RefusedError
from gripwright_server.operations.option import option
from gripwright_server.operations.player import InstrumentOptions, instrument_of
from gripwright_server.operations.vocabulary.desk import Desk, StoreOperation
from gripwright_server.operations.vocabulary.entry_row import EntriesResult, EntryRow
from gripwright_server.operations.vocabulary.handle import ENTRY_HELP, name_of
from gripwright_server.store import know_already, profile_of

STATES: Final = ("active", "suspended", "retired")
"""As `gripwright.vocabulary.STATES` has them."""


@attrs.frozen(kw_only=True, slots=False)
class AddRequest:
    """A grip for a chord."""

    heading: ClassVar[str] = "The grip"

    symbol: str = option(
        help="the chord that it serves, such as Dm9", positional=True, form="SYMBOL"
    )
    frets: str = option(
        help="its frets from the bass side, such as x-5-3-5-5-x", positional=True, form="FRETS"
    )
    tags: tuple[str, ...] | None = option(
        help="a word to find it by; may be given again", default=None, form="WORD"
    )
    note: str = option(help="what you want to remember about it", default="", form="TEXT")
    source: str = option(
        help="where it comes from: a book, a lesson, a record", default="", form="TEXT"
    )
    known: bool = option(
        help="say that you know it already, so that it is asked for seldom", default=False
    )
    anyway: bool = option(help="add it though its tones are not the chord's", default=False)
    instrument: str | None = option(
        help="its instrument, where it is not that of the profile",
        default=None,
        names="instruments",
        form="ID|STRINGS",
    )


@attrs.frozen(kw_only=True, slots=False)
class ListRequest:
    """Which entries."""

    heading: ClassVar[str] = "Which grips"

    category: str | None = option(
        help="one kind of chord, by its suffix or by a symbol, such as m7b5 or Cm7b5",
        default=None,
        form="SUFFIX",
    )
    state: str | None = option(help="in one state alone", default=None, choices=STATES)
    tag: str | None = option(help="with one tag alone", default=None, form="WORD")


@attrs.frozen(kw_only=True, slots=False)
class EntryRequest:
    """One entry."""

    heading: ClassVar[str] = "The grip"

    entry: str = option(help=ENTRY_HELP, positional=True, form="ENTRY")


@attrs.frozen(kw_only=True, slots=False)
class ChangeRequest(EntryRequest):
    """What changes of an entry; what is left out stays."""

    tags: tuple[str, ...] | None = option(
        help="a word to find it by, in place of those before; may be given again",
        default=None,
        form="WORD",
    )
    untagged: bool = option(help="take all tags away", default=False)
    note: str | None = option(help="what you want to remember", default=None, form="TEXT")
    source: str | None = option(help="where it comes from", default=None, form="TEXT")
    state: str | None = option(
        help="active is asked for in its turn; suspended counts as known, and rests; retired is"
        " laid aside",
        default=None,
        choices=STATES,
    )
    known: bool = option(help="say that you know it already", default=False)


def add(request: AddRequest, desk: Desk) -> EntriesResult:
    """Add a grip, unless its tones are not the chord's.

    Raises:
        ChordSymbolError: The symbol cannot be read.
        NotationError: The frets cannot be read, or the instrument has no such frets.
        RefusedError: The tones are not the chord's; says what they could be instead.
        ConditionError: There is no profile yet, or a text is too long.
        StoreError: The store cannot be written.
    """
    chord = Chord.parse(request.symbol)
    with desk.store() as store:
        instrument = profile_of(store).instrument
        if request.instrument is not None:
            instrument = instrument_of(
                InstrumentOptions(instrument=request.instrument), desk.registry()
            )
        frets = frets_of(request.frets, instrument)
        if max(frets) < 0:
            raise NothingFoundError(sentence="nothing sounds: every string is muted")
        grip = grip_for(chord, instrument, frets)
        doubt = None if request.anyway else question(grip)
        if doubt is not None:
            raise RefusedError(
                field="frets",
                sentence=doubt.sentence,
                hints=("Add it under one of these names, or with --anyway as it is.",),
            )
        entry = Entry(
            grip,
            desk.now,
            tags=request.tags or (),
            note=request.note,
            source=request.source,
        )
        new = store.add([entry])
        if request.known:
            know_already(store, entry.id, desk.now)
        also = tuple(str(other.chord) for other in serves(grip) if other.chord != chord)
        told = {"new": bool(new), "serves": also}
        return _one(store.entry(entry.id), store.schedules(), told)


def list_entries(request: ListRequest, desk: Desk) -> EntriesResult:
    """List the entries.

    Raises:
        NothingFoundError: There are none.
        StoreError: The store cannot be read.
    """
    with desk.store() as store:
        category = None if request.category is None else category_named(request.category)
        found = store.entries(
            category=category,
            state=request.state,  # type: ignore[arg-type]
            tag=request.tag,
        )
        if not found:
            raise _none(request, category)
        return EntriesResult(found, store.schedules())


def category_named(text: str) -> str:
    """The category that a suffix or a symbol names.

    Example:
        >>> category_named("m7b5"), category_named("Ebm7b5"), category_named("F/G")
        ('m7b5', 'm7b5', '/+9')
    """
    if text and text[0] in "ABCDEFG":
        chord = Chord.parse(text)
        if chord.bass is None or not chord.foreign_bass:
            return chord.quality.name
        above = (chord.bass.pitch_class - chord.root.pitch_class) % len(chord.names)
        return f"{chord.quality.name}/+{chord.names[above]}"
    if "/+" in text:
        return text
    return Chord.parse(f"C{text}").quality.name


def change(request: ChangeRequest, desk: Desk) -> EntriesResult:
    """Change an entry.

    Raises:
        UnknownNameError: There is no such entry.
        ConditionError: A text is too long, or there are too many tags.
        StoreError: The store cannot be written.
    """
    with desk.store() as store:
        name = name_of(request.entry, store)
        tags = () if request.untagged else request.tags
        store.change(
            name,
            tags=tags,
            note=request.note,
            source=request.source,
            state=request.state,  # type: ignore[arg-type]
        )
        if request.known:
            know_already(store, name, desk.now)
        return _one(store.entry(name), store.schedules(), {})


def remove(request: EntryRequest, desk: Desk) -> EntriesResult:
    """Remove an entry that was never reviewed.

    Raises:
        UnknownNameError: There is no such entry.
        ConditionError: It has reviews: it can be retired.
        StoreError: The store cannot be written.
    """
    with desk.store() as store:
        entry = store.entry(name_of(request.entry, store))
        store.remove(entry.id)
        return EntriesResult((entry,))


def _one(entry: Entry, schedules: object, told: object) -> EntriesResult:
    return EntriesResult((entry,), schedules, told)  # type: ignore[arg-type]


def _none(request: ListRequest, category: str | None) -> NothingFoundError:
    asked = [name for name in ("category", "state", "tag") if getattr(request, name) is not None]
    words = "no grip" if category is None else f"no grip of the kind {category_in_words(category)}"
    if not asked:
        return NothingFoundError(sentence="the vocabulary is empty")
    return NothingFoundError(
        sentence=f"the vocabulary has {words} that you ask for",
        condition=asked[0] if len(asked) == 1 else None,
    )


_ROWS: Final = ("json", "ndjson", "csv")

ADD: Final = StoreOperation(
    name="add",
    summary="Add a grip for a chord, unless its tones are not the chord's",
    collection="entries",
    request=AddRequest,
    function=add,
    result=EntriesResult,
    row=EntryRow,
    formats=_ROWS,
    writes=True,
)
"""Adding as an operation."""

LIST: Final = StoreOperation(
    name="list",
    summary="List the grips of the vocabulary by kind of chord",
    collection="entries",
    request=ListRequest,
    function=list_entries,
    result=EntriesResult,
    row=EntryRow,
    formats=_ROWS,
)
"""The list as an operation."""

CHANGE: Final = StoreOperation(
    name="change",
    summary="Change tags, note, source or state of a grip, or retire it",
    collection="entries",
    request=ChangeRequest,
    function=change,
    result=EntriesResult,
    row=EntryRow,
    formats=_ROWS,
    writes=True,
)
"""Changing as an operation."""

REMOVE: Final = StoreOperation(
    name="remove",
    summary="Remove a grip that was never reviewed",
    collection="entries",
    request=EntryRequest,
    function=remove,
    result=EntriesResult,
    row=EntryRow,
    formats=_ROWS,
    writes=True,
)
"""Removing as an operation."""
