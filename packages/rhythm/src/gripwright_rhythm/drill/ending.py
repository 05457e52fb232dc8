"""The ending bar: the tonic, held, for what aims past the end of the form."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from gripwright import Chord, find_voicings, ranking
from gripwright_rhythm.drill.form import Form, FormBar, FormSpan

if TYPE_CHECKING:
    from gripwright import Hand, Voicing

_ZERO: Final = Fraction(0)

# Chords that a tune comes to rest on (common practice): no dominant, nothing diminished.
_RESTING: Final = frozenset({"3", "b3"})
_UNREST: Final = frozenset({"b5", "bb7"})
_USUAL_NOTES: Final = 3


def ending_form(form: Form, hand: Hand) -> Form:
    """One bar in which the tonic is held.

    The tonic is that of the key; where the chart says none, the root of its last chord if that
    is one to rest on, else of its first (common practice). Its grip is the line's own last one of
    a chord on that root and of that mode; where there is none, the nearest voicing to the last
    grip; where the instrument has none, the first grip, as if another chorus came.

    Args:
        form: The last chorus.
        hand: The fretting hand.
    """
    voicing = _tonic(form, hand)
    meter = form.meter
    bar = FormBar(_ZERO, meter.length, _ZERO, meter, 0, None, None)
    span = FormSpan(_ZERO, meter.length, voicing.chord, voicing, held=True)
    return Form((bar,), (span,), meter, form.key, form.title)


def _tonic(form: Form, hand: Hand) -> Voicing:
    grips = [span.voicing for span in form.spans if span.voicing is not None]
    last = grips[-1]
    if form.key is not None:
        root, minor = form.key.tonic, form.key.minor
    else:
        home = last.chord if _rests(last.chord) else grips[0].chord
        root, minor = home.root, "b3" in home.degrees
    for grip in reversed(grips):
        chord = grip.chord
        same = chord.root == root and chord.bass is None and _rests(chord)
        if same and ("b3" in chord.degrees) == minor:
            return grip
    tonic = Chord.parse(f"{root}{'m' if minor else ''}6")
    return _nearest(tonic, last, hand) or grips[0]


def _rests(chord: Chord) -> bool:
    degrees = set(chord.degrees)
    dominant = "3" in degrees and "b7" in degrees
    return bool(degrees & _RESTING) and not degrees & _UNREST and not dominant


def _nearest(chord: Chord, last: Voicing, hand: Hand) -> Voicing | None:
    least = min(len(last.midi), _USUAL_NOTES)
    table = find_voicings(chord, last.instrument, hand, min_notes=least, min_tones=least)
    fretted = table.where(open_strings=0)
    if 0 not in last.frets and len(fretted):
        table = fretted
    return table.order_by(ranking.near(last))[0] if len(table) else None
