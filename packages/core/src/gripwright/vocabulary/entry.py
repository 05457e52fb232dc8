"""Entries: the grips of a vocabulary, each with what is worked out of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from typing import Final, Literal, get_args

import attrs
import numpy as np

from gripwright.errors import ConditionError
from gripwright.neck.classify import families
from gripwright.neck.instrument import Instrument
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.vocabulary.placing import is_movable, reference
from gripwright.vocabulary.questioning import grip_for
from gripwright.vocabulary.strings import in_words
from gripwright.vocabulary.words import degree_in_words, quality_in_words

State = Literal["active", "suspended", "retired"]

STATES: Final[tuple[State, ...]] = get_args(State)
"""Active: asked for in its turn. Suspended: counts as known, and rests. Retired: laid aside."""

_LONGEST_NOTE: Final = 2000
_LONGEST_TAG: Final = 40
_MOST_TAGS: Final = 40


def aware(_instance: object, attribute: attrs.Attribute[datetime], value: datetime) -> None:
    """Refuse a time without a time zone: it is another moment wherever it is read.

    Raises:
        ConditionError: The time has no offset.
    """
    if not isinstance(value, datetime) or value.utcoffset() is None:
        raise ConditionError(
            name=attribute.name, value=str(value), expected="a date and time with a time zone"
        )


def in_utc(moment: datetime) -> datetime:
    """A moment in UTC, in which equal moments are equal.

    In zones where clocks are put back, Python holds no time of the hour that comes twice equal
    to the same moment in another zone. A time without a zone stays as it is, to be refused.
    """
    if not isinstance(moment, datetime) or moment.utcoffset() is None:
        return moment
    try:
        return moment.astimezone(UTC)
    except OverflowError:
        return moment


@attrs.frozen
class Facts:
    """What is worked out of a grip for its chord.

    Args:
        id: The name of the entry: the grip where it stands for all its places, and the chord
            that it serves there, such as ``"guitar:x-3-5-4-5-x=Cmaj7"``. A grip entered in two
            places for one kind of chord has one name.
        category: The kind of chord: the name of its quality, with the degree of a foreign bass
            after a slash.
        movable: Whether it moves along the neck; else it is bound to open strings.
        degrees: Degrees of the sounding strings, from the bass side.
        families: Every family that it belongs to.
        inversion: As `gripwright.neck.voicing.Voicing.inversion`.
        top_degree: Degree of the highest pitch.
        string_set: The sounding strings, 1 on the treble side, from the bass side.
        frets: The shape of `id`.

    Example:
        >>> from gripwright import Chord, Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4", id="six")
        >>> facts = Facts.of(Voicing(Chord.parse("Ebmaj7"), guitar, (-1, 6, 8, 7, 8, -1)))
        >>> facts.id, facts.families, facts.inversion, facts.top_degree
        ('six:x-3-5-4-5-x=Cmaj7', ('drop-2', 'triad-over-bass'), 'root', '3')
    """

    id: str
    category: str
    movable: bool
    degrees: tuple[Degree, ...]
    families: tuple[str, ...]
    inversion: str
    top_degree: Degree
    string_set: tuple[int, ...]
    frets: tuple[int, ...]

    @classmethod
    def of(cls, voicing: Voicing) -> Facts:
        """Work them out.

        Args:
            voicing: The grip for its chord, at any place.
        """
        return cls.of_all([voicing])[0]

    @classmethod
    def of_all(cls, voicings: Sequence[Voicing]) -> tuple[Facts, ...]:
        """Work them out for many grips, which is faster than one by one.

        Args:
            voicings: The grips for their chords, at any places.

        Returns:
            What is worked out, in the same order.
        """
        alike: dict[tuple[Chord, Instrument], list[int]] = {}
        for place, voicing in enumerate(voicings):
            alike.setdefault((voicing.chord, voicing.instrument), []).append(place)
        named: dict[int, tuple[str, ...]] = {}
        for places in alike.values():
            found = _families([voicings[place] for place in places])
            named.update(zip(places, found, strict=True))
        return tuple(cls._of(voicing, named[place]) for place, voicing in enumerate(voicings))

    @classmethod
    def _of(cls, voicing: Voicing, families: tuple[str, ...]) -> Facts:
        here = reference(voicing)
        # A slash that only tells the inversion makes no other grip.
        chord = here.chord if here.chord.foreign_bass else attrs.evolve(here.chord, bass=None)
        return cls(
            id=f"{here.id}={chord}",
            category=category_of(voicing),
            movable=is_movable(voicing),
            degrees=voicing.degrees,
            families=families,
            inversion=voicing.inversion,
            top_degree=voicing.top_degree,
            string_set=voicing.string_set,
            frets=here.frets,
        )

    @property
    def symbol(self) -> str:
        """The chord that the grip serves where `id` has it."""
        return self.id.rpartition("=")[2]

    def voicing(self, instrument: Instrument) -> Voicing:
        """The grip where `id` has it.

        Args:
            instrument: Its instrument.
        """
        return grip_for(Chord.parse(self.symbol), instrument, self.frets)


def _families(voicings: Sequence[Voicing]) -> list[tuple[str, ...]]:
    """The families of grips of one chord on one instrument."""
    first = voicings[0]
    frets = np.array([voicing.frets for voicing in voicings], np.int16).T
    sounding = [
        (
            frets[string] >= 0,
            np.array([first.instrument.sounding(string, fret) for fret in column], np.int16),
        )
        for string, column in enumerate(frets.tolist())
    ]
    found = families(sounding, first.chord)
    return [
        tuple(name for name, rows in found.items() if rows[row]) for row in range(len(voicings))
    ]


def category_of(voicing: Voicing) -> str:
    """The kind of chord under which a grip is kept.

    Example:
        >>> from gripwright import Chord, Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> category_of(Voicing(Chord.parse("F/G"), guitar, (3, -1, 3, 2, 1, 1)))
        '/+9'
    """
    chord = voicing.chord
    foreign = chord.foreign_bass
    return f"{chord.quality.name}/+{voicing.bass_degree}" if foreign else chord.quality.name


def category_in_words(category: str) -> str:
    """A category as players say it.

    Example:
        >>> category_in_words("m7b5"), category_in_words("/+9")
        ('half-diminished', 'major triad over the ninth')
    """
    quality, slash, bass = category.partition("/+")
    words = quality_in_words(quality)
    return f"{words} over the {degree_in_words(Degree(bass))}" if slash else words


def _tags(tags: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted({tag.strip() for tag in tags} - {""}))


def _check_writable(name: str, text: str) -> None:
    """Refuse text that no file holds: what a terminal or JSON sent that is no Unicode text."""
    try:
        text.encode()
    except UnicodeEncodeError:
        raise ConditionError(
            name=name, value=ascii(text)[1:-1], expected="text that UTF-8 can write"
        ) from None


@attrs.frozen
class Entry:
    """A grip of the vocabulary, serving one kind of chord.

    Args:
        voicing: The grip for its chord, where it was entered; `grip_for` makes one.
        added: When, with a time zone; kept in UTC.
        tags: Words to find it by; kept sorted, once each.
        note: What the player wrote about it, up to 2000 characters.
        source: Where it came from: a book, a lesson, the starter set.
        state: One of `STATES`.
        facts: What is worked out of the grip; given only by those who kept it.

    Raises:
        ConditionError: A time without a zone, a text too long or none that UTF-8 can write, or an
            unknown state.

    Example:
        >>> from gripwright import Chord, Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4", id="six")
        >>> grip = Voicing(Chord.parse("Bm7b5"), guitar, (-1, 2, 3, 2, 3, -1))
        >>> entry = Entry(grip, datetime(2026, 1, 5, tzinfo=UTC), tags=("drop 2",))
        >>> entry.id
        'six:x-3-4-3-4-x=Cm7b5'
        >>> print(entry.words)
        half-diminished, minor third on top, the inner strings, root position
    """

    voicing: Voicing
    added: datetime = attrs.field(converter=in_utc, validator=aware)
    tags: tuple[str, ...] = attrs.field(default=(), converter=_tags)
    note: str = attrs.field(default="")
    source: str = attrs.field(default="")
    state: State = attrs.field(default="active")
    facts: Facts = attrs.field(
        default=attrs.Factory(lambda self: Facts.of(self.voicing), takes_self=True), eq=False
    )

    @tags.validator
    def _check_tags(self, _attribute: object, value: tuple[str, ...]) -> None:
        if len(value) > _MOST_TAGS or any(len(tag) > _LONGEST_TAG for tag in value):
            raise ConditionError(
                name="tags",
                value=value,
                expected=f"up to {_MOST_TAGS} tags of up to {_LONGEST_TAG} characters",
            )
        for tag in value:
            _check_writable("tags", tag)

    @note.validator
    @source.validator
    def _check_text(self, attribute: attrs.Attribute[str], value: str) -> None:
        if len(value) > _LONGEST_NOTE:
            raise ConditionError(
                name=attribute.name, value=value, expected=f"up to {_LONGEST_NOTE} characters"
            )
        _check_writable(attribute.name, value)

    @state.validator
    def _check_state(self, _attribute: object, value: str) -> None:
        if value not in STATES:
            raise ConditionError(name="state", value=value, expected=" or ".join(STATES))

    @property
    def id(self) -> str:
        """The name of the entry, as `Facts.id`."""
        return self.facts.id

    @property
    def words(self) -> str:
        """What it is, for a reader: kind of chord, top degree, strings and inversion."""
        facts = self.facts
        bass = "root position" if facts.inversion == "root" else f"{facts.inversion} inversion"
        strings = in_words(facts.string_set, len(self.voicing.frets))
        parts = [
            category_in_words(facts.category),
            f"{degree_in_words(facts.top_degree)} on top",
            strings,
        ]
        if facts.inversion != "foreign":
            parts.append(bass)
        return ", ".join(parts)
