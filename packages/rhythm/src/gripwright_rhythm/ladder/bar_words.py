"""Words for places of any bar, and the places of one metre that they stand for."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from itertools import product
from typing import Final, TypeAlias

from gripwright.errors import ConditionError
from gripwright.meter import Meter
from gripwright_rhythm.place import Place, beats, group_beats, middle_beat, off_beats

_WORD: Final = re.compile(r"\{([^{}]*)\}(\S*)")
_NUMBERED: Final = re.compile(r"(off )?([1-9][0-9]?)( on)?")
_IN_GROUPS: Final = "a metre of groups, such as 4/4 or 3+2/4"

_FROM_END: Final = {"last": 1, "last but one": 2}
_OF_GROUP: Final = {"strong": 1, "backbeats": 2}
_ONE_GROUP_OF_THREE: Final = 3

_Choices: TypeAlias = tuple[tuple[Place, ...], ...]


def places_named(word: str, meter: Meter) -> _Choices:
    """The places of a metre that a word stands for.

    Args:
        word: ``2``, ``off 2``, ``4 on``, ``off 4 on``, ``last``, ``last but one``, ``off last``,
            ``off before middle``, ``every``, ``strong`` or ``backbeats``.
        meter: The metre.

    Returns:
        One choice or several, each of one place or several.

    Raises:
        ConditionError: The metre has no such place; says which metres have.

    Example:
        >>> [[place.label for place in choice] for choice in places_named("4 on", Meter(6, 4))]
        [['4'], ['5'], ['6']]
        >>> [[place.label for place in choice] for choice in places_named("strong", Meter(4, 4))]
        [['1', '3']]
    """
    numbered = _NUMBERED.fullmatch(word)
    if numbered is not None:
        among = off_beats(meter) if numbered[1] else beats(meter)
        first = int(numbered[2])
        found = among[first - 1 :] if numbered[3] else among[first - 1 : first]
        if not found:
            raise _unknown(meter, _beats_or_more(first))
        return tuple((place,) for place in found)
    return (_whole(word, meter),)


def _whole(word: str, meter: Meter) -> tuple[Place, ...]:
    on, off = beats(meter), off_beats(meter)
    if word in _FROM_END:
        back = _FROM_END[word]
        # A last beat is not the first one: that has a name of its own.
        if len(on) <= back:
            raise _unknown(meter, _beats_or_more(back + 1))
        return (on[-back],)
    if word == "every":
        return on
    if word == "off last":
        return (off[-1],)
    if word == "off before middle":
        middle = middle_beat(meter)
        if middle is None:
            raise _unknown(meter, _IN_GROUPS)
        return (off[middle - 2],)
    found = tuple(on[beat - 1] for beat in _of_groups(meter, _OF_GROUP[word]))
    if not found:
        raise _unknown(meter, f"{_IN_GROUPS}, with two beats or more to play")
    return found


def _of_groups(meter: Meter, nth: int) -> tuple[int, ...]:
    """The strong beats or the backbeats, where there are two or more.

    Three beats are one group, whose weak ones are 2 and 3 (a waltz) and whose outer ones 1 and 3.
    """
    found = group_beats(meter, nth)
    if len(found) > 1:
        return found
    if found and meter.pulses == _ONE_GROUP_OF_THREE:
        return (nth, _ONE_GROUP_OF_THREE)
    return ()


def texts_in(text: str, meter: Meter) -> tuple[str, ...]:
    """The texts of rhythm patterns that a text with places in braces stands for in a metre.

    Args:
        text: The text; each place in braces is followed by the marks of its attacks.
        meter: The metre.

    Returns:
        One text, or one for each choice of a place with choices.

    Raises:
        ConditionError: The metre has no such place; says which metres have.

    Example:
        >>> texts_in("1' {last}:0.5", Meter(3, 4)), texts_in("{off 4 on}", Meter(5, 4))
        (("1' 3:0.5",), ('9/2', '11/2'))
    """
    return _filled(text, meter, _attacks)


def sayings_in(text: str, meter: Meter) -> tuple[str, ...]:
    """The same of what a drill says: words in the place of braces.

    Example:
        >>> sayings_in("{backbeats}", Meter(4, 4)), sayings_in("{off last}, pushed", Meter(6, 8))
        (('Beat 2 and beat 4',), ('Eighth 6, pushed',))
        >>> sayings_in("{strong}", Meter(7, 8, (2, 2, 3)))
        ('Beat 1, beat 3 and beat 5',)
    """
    said = _filled(text, meter, lambda chosen, after: f"{_listed(chosen)}{after}")
    return tuple(f"{one[:1].upper()}{one[1:]}" for one in said)


def _attacks(chosen: Iterable[Place], marks: str) -> str:
    return " ".join(f"{place.beat}{marks}" for place in chosen)


def _listed(chosen: Iterable[Place]) -> str:
    *others, last = (place.words for place in chosen)
    return f"{', '.join(others)} and {last}" if others else last


def _filled(
    text: str, meter: Meter, write: Callable[[tuple[Place, ...], str], str]
) -> tuple[str, ...]:
    """Put every choice of places in the place of the braces, with what stands right after them."""
    found = list(_WORD.finditer(text))
    filled: list[str] = []
    for choices in product(*(places_named(match[1], meter) for match in found)):
        parts, start = [], 0
        for match, chosen in zip(found, choices, strict=True):
            parts += [text[start : match.start()], write(chosen, match[2])]
            start = match.end()
        filled.append("".join([*parts, text[start:]]))
    return tuple(filled)


def _beats_or_more(count: int) -> str:
    return "any metre" if count == 1 else f"a metre of {count} beats or more"


def _unknown(meter: Meter, expected: str) -> ConditionError:
    return ConditionError(name="metre", value=str(meter), expected=expected)
