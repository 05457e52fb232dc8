"""The ending bar: the tonic, held, for what aims past the end of the form."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from gripwright import Chord, Interval, Note, find_voicings, ranking
from gripwright_rhythm.drill.form import Form, FormBar, FormSpan

if TYPE_CHECKING:
    from gripwright import Hand, Voicing

_ZERO: Final = Fraction(0)

# Chords that a tune comes to rest on (common practice): no dominant, nothing diminished.
_RESTING: Final = frozenset({"3", "b3"})
_UNREST: Final = frozenset({"b5", "bb7"})
_USUAL_NOTES: Final = 3
_FIFTH: Final = Interval.parse("P5")


def ending_form(form: Form, hand: Hand) -> Form:
    """One bar in which the tonic is held.

    The tonic is that of the key. Where the chart says none, the last chord tells: a dominant
    seventh, or a triad a fifth above the first chord, leads to the root a fifth below; a chord to
    rest on is the tonic; else it is the first chord (common practice). Its grip is the line's own
    last one of a chord on that root and of that mode; where there is none, the nearest voicing to
    the last grip; where the instrument has none, the first grip, as if another chorus came.

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
        root, minor = _home([grip.chord for grip in grips])
    for grip in reversed(grips):
        chord = grip.chord
        same = chord.root == root and chord.bass is None and _rests(chord)
        if same and ("b3" in chord.degrees) == minor:
            return grip
    tonic = Chord.parse(f"{root}{'m' if minor else ''}6")
    return _nearest(tonic, last, hand) or grips[0]


def _home(chords: list[Chord]) -> tuple[Note, bool]:
    """The root that the chords of a chart without a key come home to, and whether it is minor."""
    first, last = chords[0], chords[-1]
    below = last.root + -_FIFTH
    leads = "3" in last.degrees and (_is_dominant(last) or below == first.root)
    if leads and last.root != first.root:
        known = next((chord for chord in chords if chord.root == below), None)
        return below, known is not None and "b3" in known.degrees
    home = last if _rests(last) else first
    return home.root, "b3" in home.degrees


def _is_dominant(chord: Chord) -> bool:
    return "3" in chord.degrees and "b7" in chord.degrees


def _rests(chord: Chord) -> bool:
    degrees = set(chord.degrees)
    return bool(degrees & _RESTING) and not degrees & _UNREST and not _is_dominant(chord)


def _nearest(chord: Chord, last: Voicing, hand: Hand) -> Voicing | None:
    least = min(len(last.midi), _USUAL_NOTES)
    table = find_voicings(chord, last.instrument, hand, min_notes=least, min_tones=least)
    fretted = table.where(open_strings=0)
    if 0 not in last.frets and len(fretted):
        table = fretted
    return table.order_by(ranking.near(last))[0] if len(table) else None
