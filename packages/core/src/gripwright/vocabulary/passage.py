"""A passage of the tune at hand, with a line that uses the new grip."""

from __future__ import annotations

import contextlib
from typing import Any, Final

import attrs

from gripwright.errors import ConditionError, NoCandidateError
from gripwright.leading.line import Line, LineStep, lead
from gripwright.neck.instrument import Instrument
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.quality import in_order
from gripwright.tune.chart import Chart
from gripwright.tune.unfold import Span
from gripwright.vocabulary.placing import BODY_JOINS, fits_hand, middle_fret, on_root
from gripwright.vocabulary.profile import Profile

_PHRASE: Final = 4
_CANDIDATES: Final = 60
_AROUND: Final = 3


@attrs.frozen
class Passage:
    """A phrase of a tune and its line.

    Args:
        title: Name of the tune, or None.
        first_bar: Number of its first bar as played, counted from 1.
        last_bar: Number of its last bar.
        line: One grip for each chord.
        place: Which step of the line is the new grip, counted from 0, or None.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> tune = Chart.parse("| Dm7 | G7 |")
        >>> passage = passage_of(tune, Profile(guitar))
        >>> passage.first_bar, passage.last_bar, len(passage.line.steps)
        (1, 2, 2)
    """

    title: str | None
    first_bar: int
    last_bar: int
    line: Line
    place: int | None

    @property
    def sentence(self) -> str:
        """What to play, in words."""
        name = self.title or "the tune"
        bars = f"bars {self.first_bar} to {self.last_bar}"
        if self.first_bar == self.last_bar:
            bars = f"bar {self.first_bar}"
        chords = " ".join(f"{step.chord} {step.voicing.shape}" for step in self.line.steps)
        return f"{name}, {bars}: {chords}"


def passage_of(
    tune: Chart[Chord], profile: Profile, grip: Voicing | None = None, **conditions: Any
) -> Passage | None:
    """The first phrase of a tune in which a grip has its place, with the cheapest line through it.

    A phrase is four bars as played. The grip stands at its chord; the lines up to it and on from
    it are each the cheapest, so that the whole is the cheapest that uses it. Where the tune does
    not have the chord, or without a grip, it is the first phrase that has chords.

    Args:
        tune: The tune.
        profile: The player, whose band says what is left to the guitar.
        grip: The grip on any root, or None.
        **conditions: Conditions of the search, as in `find_voicings`.

    Returns:
        The passage, or None where the tune has no chords, or one that cannot be voiced.

    Example:
        >>> from gripwright import Instrument
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> tune = Chart.parse("| Gm7 | C7 | Fmaj7 | % | Dm7 | G7 | Cmaj7 | % |")
        >>> grip = Voicing(Chord.parse("Cmaj7"), guitar, (-1, 3, 5, 4, 5, -1))
        >>> passage = passage_of(tune, Profile(guitar), grip, strings=(5, 4, 3, 2))
        >>> passage.first_bar, passage.line.steps[passage.place].voicing.shape
        (1, 'x-8-10-9-10-x')
    """
    spans = [span for span in tune.unfolded().spans if span.symbol is not None]
    place, held = _place(spans, grip, profile)
    if not spans:
        return None
    phrase = spans[0 if place is None else place].bar // _PHRASE
    chosen = [span for span in spans if span.bar // _PHRASE == phrase]
    within = None if place is None else chosen.index(spans[place])
    asked: dict[str, Any] = {
        "hand": profile.hand,
        "band": profile.company,
        "candidates": _CANDIDATES,
        "stroke": profile.stroke,
        "highest_fret": min(BODY_JOINS, profile.instrument.frets),
        **conditions,
    }
    chords = [_chord(span) for span in chosen]
    steps, within = _steps(chords, within, held, profile.instrument, asked)
    timed = tuple(
        attrs.evolve(
            step,
            chord=chord,
            voicing=attrs.evolve(step.voicing, chord=chord),
            onset=span.onset,
            length=span.length,
            bar=span.bar + 1,
        )
        for step, chord, span in zip(steps, chords, chosen, strict=False)
    )
    bars = [step.bar for step in timed]
    return Passage(tune.title, min(bars), max(bars), Line(timed), within) if timed else None


def _place(
    spans: list[Span[Chord]], grip: Voicing | None, profile: Profile
) -> tuple[int | None, Voicing | None]:
    """The first chord that the grip can hold, and the grip there."""
    if grip is None:
        return None, None
    for place, span in enumerate(spans):
        chord = _chord(span)
        if chord.quality == grip.chord.quality and chord.bass is None:
            held = [one for one in on_root(grip, chord.root) if fits_hand(one, profile.hand)]
            if held:
                here = middle_fret(grip)
                return place, min(held, key=lambda one: abs(middle_fret(one) - here))
    return None, None


def _steps(
    chords: list[Chord],
    place: int | None,
    grip: Voicing | None,
    instrument: Instrument,
    asked: dict[str, Any],
) -> tuple[tuple[LineStep, ...], int | None]:
    """The cheapest line, and where the grip is in it.

    Beside a grip the hand stays near it, where that will do. A grip that the band leaves no
    room for is played without the band; one that still will not do is left out.
    """
    alone = {**asked, "band": None}
    settings: dict[str, Any]
    if place is not None and grip is not None:
        through = [*chords[:place], _with_tensions(grip, chords[place]), *chords[place + 1 :]]
        near = _near(grip)
        for settings in ({**asked, **near}, {**alone, **near}, alone):
            with contextlib.suppress(ConditionError, NoCandidateError):
                before = lead(through[: place + 1], instrument, last=grip, **settings).steps
                after = lead(through[place:], instrument, first=grip, **settings).steps
                return (*before, *after[1:]), place
    for settings in (asked, alone):
        with contextlib.suppress(NoCandidateError):
            return lead(chords, instrument, **settings).steps, None
    return (), None


def _near(grip: Voicing) -> dict[str, int]:
    """Frets around a grip, as conditions of the search."""
    fretted = [fret for fret in grip.frets if fret > 0] or [1]
    return {
        "lowest_fret": max(1, min(fretted) - _AROUND),
        "highest_fret": min(max(fretted) + _AROUND, grip.instrument.frets),
    }


def _with_tensions(grip: Voicing, chord: Chord) -> Chord:
    """The chord with the tensions that the grip adds among its degrees."""
    quality = chord.quality
    degrees = in_order((*quality.degrees, *grip.added))
    return attrs.evolve(chord, quality=attrs.evolve(quality, degrees=degrees))


def _chord(span: Span[Chord]) -> Chord:
    assert span.symbol is not None  # noqa: S101 - spans without a chord were left out
    return span.symbol
