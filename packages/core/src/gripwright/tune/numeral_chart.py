"""Charts of numerals: read, realised in a key, and read out of a chart."""

from __future__ import annotations

import functools

import attrs

from gripwright.errors import ConditionError
from gripwright.theory.chord import Chord
from gripwright.tune.chart import Chart
from gripwright.tune.key import Key
from gripwright.tune.numeral import Numeral
from gripwright.tune.transpose import in_key, moved_keys


def numeral_chart(text: str, *, blues: bool = False) -> Chart[Numeral]:
    """Read a chart whose symbols are numerals.

    Args:
        text: The text, as `Chart` explains it.
        blues: Read bare I and IV as dominant sevenths, as in a blues.

    Raises:
        ChartError: The text is no chart of numerals; holds every fault.

    Example:
        >>> print(numeral_chart("| iiø V7b9 | i6 |"))
        | iim7b5 V7b9 | i6 |
    """
    return Chart.parse(text, reader=functools.partial(Numeral.parse, blues=blues))


def realised(chart: Chart[Numeral], key: Key | None = None) -> Chart[Chord]:
    """The chords of a chart of numerals.

    Args:
        chart: The chart.
        key: The key to realise it in; None for the keys that the chart says. Where the chart
            has a key, those of its sections move along with it.

    Returns:
        A chart of chords, with the key among its settings.

    Raises:
        ConditionError: Neither the chart nor the caller says a key, or the chart is in a key of
            the other mode.

    Example:
        >>> print(realised(numeral_chart("| ii7 V7/ii | subV7 Imaj7 |"), Key.parse("Eb")))
        key: Eb
        | Fm7 C7 | E7 Ebmaj7 |
    """
    if key is None:
        placed = chart
    elif chart.key is None:
        placed = attrs.evolve(chart, settings=attrs.evolve(chart.settings, key=key))
    else:
        placed = moved_keys(chart, in_key(chart.key, key), to=key)
    return placed.keyed(lambda numeral, own: numeral.realise(_known(own)))


def as_numerals(chart: Chart[Chord], key: Key | None = None) -> Chart[Numeral]:
    r"""The numerals of a chart of chords; its keys stay among its settings.

    Args:
        chart: The chart.
        key: The key where neither the chart nor a section says one.

    Raises:
        ConditionError: A chord stands in no key.

    Example:
        >>> print(as_numerals(Chart.parse("key: F\n| Gm7 C7 | Fmaj7 |")))
        key: F
        | ii7 V7 | Imaj7 |
    """
    return chart.keyed(lambda chord, own: Numeral.of(chord, _known(own or key)))


def _known(key: Key | None) -> Key:
    if key is None:
        raise ConditionError(name="key", value=None, expected="a key, in the chart or beside it")
    return key
