"""From drafts of bars to the sections of a chart whose signs all lead somewhere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

import attrs

from gripwright.errors import ConditionError, LeadSheetError
from gripwright.meter import Meter
from gripwright.theory.chord import Chord
from gripwright.tune.bar import MOST_PLAYED, OPEN, PLAIN, Bar, JumpText, Slot
from gripwright.tune.leadsheet_part import Draft
from gripwright.tune.repeats import Misfit
from gripwright.tune.section import HIGHEST_TEMPO, LOWEST_TEMPO, Section, Settings
from gripwright.tune.signs import find_misfits
from gripwright.tune.written import write_out

_UNITS: Final = (4, 8, 16, 32)
_MOST_ROUNDS: Final = 20


@attrs.frozen
class Form:
    """The form of a lead sheet.

    Args:
        sections: The sections.
        settings: What holds in the first one, and where another says nothing.
        pickup: Quarters in the first bar, where it is a pickup; else 0.
        warnings: What was guessed or left out.
    """

    sections: tuple[Section[Chord], ...]
    settings: Settings
    pickup: Fraction
    warnings: tuple[str, ...]


def form_of(drafts: Sequence[Draft], *, name: str | None = None) -> Form:
    """Make a form of drafts.

    Args:
        drafts: One or more.
        name: The name of the file, for errors.

    Returns:
        The form, in which every sign that leads nowhere is left out with a warning.

    Raises:
        LeadSheetError: Its repeats and jumps cannot be untangled.
    """
    lengths, pickup = _lengths(drafts)
    _settle_codas(drafts)
    _settle_jumps(drafts)
    _settle_repeats(drafts, first=int(pickup > 0 and len(drafts) > 1))
    bars = _bars(drafts, lengths)
    sections = list(_sections(drafts, bars, lengths))
    settings = sections[0].settings
    sections = [
        attrs.evolve(section, settings=_differing(section.settings, settings))
        for section in sections
    ]
    fitted, misfits = _fit(sections, settings, pickup, name)
    warnings = [
        f"bar {draft.index + 1}: {warning}"
        for draft in drafts
        for warning in dict.fromkeys(draft.warnings)
    ]
    return Form(tuple(fitted), settings, pickup, (*warnings, *misfits))


# Lengths


def _lengths(drafts: Sequence[Draft]) -> tuple[list[Meter], Fraction]:
    """The metre that each bar has by its own length, and the pickup."""
    pickup = Fraction(0)
    meters = []
    for draft in drafts:
        meter, length = draft.meter, draft.length
        if length in {0, meter.length}:
            meters.append(meter)
        elif draft.index == 0 and length < meter.length:
            pickup = length
            if not draft.implicit and draft.number != "0":
                draft.warnings.append("shorter than its metre; it is read as a pickup")
            meters.append(meter)
        else:
            own = _meter_of(length, meter)
            if own is None:
                draft.warnings.append(f"its notes fill {length} quarters; {meter} is kept")
            elif not draft.implicit:
                draft.warnings.append(f"its notes do not fill {meter}; it is read as {own}")
            meters.append(own or meter)
    return meters, pickup


def _meter_of(length: Fraction, near: Meter) -> Meter | None:
    """A metre of a length, in the unit of another where that can be."""
    for unit in (near.unit, *_UNITS):
        count = length * unit / 4
        if count.denominator == 1:
            try:
                return Meter(int(count), unit)
            except ConditionError:
                continue
    return None


# Signs


def _settle_codas(drafts: Sequence[Draft]) -> None:
    """A coda symbol that says no more leads to the coda if another follows, else it is the coda."""
    known = {sign: any(sign in draft.signs for draft in drafts) for sign in ("coda", "to_coda")}
    symbols = [
        draft
        for draft in drafts
        if draft.coda_symbol is not None and not draft.signs & {"coda", "to_coda"}
    ]
    if symbols and not known["coda"]:
        last = symbols.pop()
        place = last.index + (last.coda_symbol == "end")
        drafts[min(place, len(drafts) - 1)].signs.add("coda")
    if symbols and not known["to_coda"]:
        symbols[0].signs.add("to_coda")


def _settle_jumps(drafts: Sequence[Draft]) -> None:
    """A jump that does not say how far goes to the coda where To Coda says so and no Fine does."""
    signs = {sign for draft in drafts for sign in draft.signs}
    if "to_coda" not in signs or "fine" in signs:
        return
    further: dict[str, JumpText] = {"D.C.": "D.C. al Coda", "D.S.": "D.S. al Coda"}
    for draft in drafts:
        if draft.jump is not None:
            draft.jump = further.get(draft.jump, draft.jump)


def _settle_repeats(drafts: Sequence[Draft], *, first: int) -> None:
    """Say where a repeat starts that does not: after the one before, or at the first bar.

    A file says it by omission, counted in the whole tune; a chart counts by sections.
    """
    implied, started, in_endings, closed = first, False, False, False
    for draft in drafts:
        if in_endings and closed and not draft.endings:
            implied, started, in_endings = draft.index, False, False
        if draft.repeat_start:
            started, in_endings = True, False
        if draft.endings:
            if not started:
                drafts[min(implied, draft.index)].repeat_start = started = True
            in_endings, closed = True, False
        if draft.repeat_end is not None:
            if not started:
                drafts[min(implied, draft.index)].repeat_start = started = True
            if in_endings:
                draft.repeat_end, closed = PLAIN, True
            else:
                draft.repeat_end = _times(draft)
                implied, started = draft.index + 1, False
        elif in_endings and draft.ending_stops:
            implied, started, in_endings = draft.index + 1, False, False


def _times(draft: Draft) -> int:
    if "open" in draft.signs:
        return OPEN
    return max(PLAIN, min(draft.repeat_end or PLAIN, MOST_PLAYED))


# Bars and sections


def _bars(drafts: Sequence[Draft], meters: Sequence[Meter]) -> list[Bar[Chord]]:
    bars: list[Bar[Chord]] = []
    for draft, meter in zip(drafts, meters, strict=True):
        slots = _slots(draft, meter.length)
        back = draft.repeats_bars
        if back and not slots and draft.index >= back:
            source = bars[draft.index - back]
            if meters[draft.index - back].length == meter.length:
                slots = source.slots
        bars.append(
            Bar(
                slots,
                repeat_start=draft.repeat_start,
                repeat_end=draft.repeat_end,
                endings=draft.endings,
                segno="segno" in draft.signs,
                # A section of that name is the coda already.
                coda="coda" in draft.signs and (draft.name or "").lower() != "coda",
                to_coda="to_coda" in draft.signs,
                fine="fine" in draft.signs,
                jump=draft.jump,
            )
        )
    return bars


def _slots(draft: Draft, length: Fraction) -> tuple[Slot[Chord], ...]:
    places: dict[Fraction, list[Chord | None]] = {}
    for onset, reading in sorted(draft.harmonies, key=lambda harmony: harmony[0]):
        if onset < length:
            places.setdefault(onset, []).append(reading.chord)
        else:
            draft.warnings.append(f"{reading.chord or 'N.C.'} stands after its end; it is left out")
    if draft.index == 0 and 0 not in places:
        places[Fraction(0)] = [None]
    onsets = sorted(places)
    slots = []
    for onset, end in zip(onsets, [*onsets, length][1:], strict=True):
        chords = places[onset]
        if len(chords) > 1:
            draft.warnings.append(f"{len(chords)} chords stand at one place; they share its time")
        for place, chord in enumerate(chords):
            shared = onset + (end - onset) * place / len(chords)
            try:
                slots.append(Slot(chord, shared))
            except ConditionError:
                draft.warnings.append(f"the place of {chord or 'N.C.'} is too fine; it is left out")
    return tuple(slots)


def _sections(
    drafts: Sequence[Draft], bars: Sequence[Bar[Chord]], meters: Sequence[Meter]
) -> Iterator[Section[Chord]]:
    """Sections start at rehearsal marks and where key, metre, tempo or feel change to stay."""
    current = Settings()
    tempo: Fraction | None = None
    name: str | None = None
    held: list[Bar[Chord]] = []
    for draft, bar, meter in zip(drafts, bars, meters, strict=True):
        opens = draft.name is not None or draft.tempo is not None or draft.feel is not None
        usual = current.meter
        if usual is None or _stays(drafts, draft.index, usual, opens=opens):
            usual = draft.meter
        tempo = draft.tempo or tempo
        # A tempo is written for a note value, and goes on in quarters when the pulse changes.
        here = Settings(draft.key, usual, _beats(tempo, usual), draft.feel or current.feel)
        if draft.tempo is not None and here.tempo_bpm is None:
            draft.warnings.append("a tempo out of range is left out")
        if draft.name is not None or here != current:
            if held:
                yield Section(held, name, current)
            held, name, current = [], draft.name, here
        held.append(bar if meter == usual else attrs.evolve(bar, meter=meter))
    yield Section(held, name, current)


def _stays(drafts: Sequence[Draft], index: int, before: Meter, *, opens: bool) -> bool:
    """Whether a new metre is more than that of one bar."""
    meter = drafts[index].meter
    if index + 1 == len(drafts):
        return opens
    after = drafts[index + 1].meter
    return after == meter or (opens and after != before)


def _beats(tempo: Fraction | None, meter: Meter) -> int | None:
    """Beats a minute, where a chart can hold them."""
    beats = None if tempo is None else round(tempo / meter.pulse)
    return beats if beats is not None and LOWEST_TEMPO <= beats <= HIGHEST_TEMPO else None


def _differing(settings: Settings, usual: Settings) -> Settings:
    return Settings(
        None if settings.key == usual.key else settings.key,
        None if settings.meter == usual.meter else settings.meter,
        None if settings.tempo_bpm == usual.tempo_bpm else settings.tempo_bpm,
        None if settings.feel == usual.feel else settings.feel,
    )


# Fitting


def _fit(
    sections: list[Section[Chord]], settings: Settings, pickup: Fraction, name: str | None
) -> tuple[list[Section[Chord]], list[str]]:
    """Leave out every sign that leads nowhere."""
    warnings: list[str] = []
    for _ in range(_MOST_ROUNDS):
        misfits = find_misfits(list(write_out(sections, settings, pickup)))
        if not misfits:
            return sections, warnings
        for misfit in misfits:
            sections = _without(sections, misfit, warnings)
    raise LeadSheetError(name=name, reason="its repeats and jumps lead nowhere")


def _without(
    sections: list[Section[Chord]], misfit: Misfit, warnings: list[str]
) -> list[Section[Chord]]:
    number, place = 0, misfit.bar
    while place >= len(sections[number].bars):
        place -= len(sections[number].bars)
        number += 1
    section = sections[number]
    bar = section.bars[place]
    part = misfit.part
    if part == "jump" and bar.jump is not None and " " in bar.jump:
        plain: JumpText = "D.C." if bar.jump.startswith("D.C.") else "D.S."
        bar = attrs.evolve(bar, jump=plain)
    elif part == "coda" and not bar.coda:
        section = attrs.evolve(section, name=None)
    else:
        # Chords fit their bars here, so that only signs are left, and each has a plain state.
        bar = attrs.evolve(bar, **{part: getattr(Bar(), part)})
    warnings.append(
        f"bar {misfit.bar + 1}: the {_CALLED.get(part, part)} is left out, for want of "
        f"{misfit.expected}"
    )
    bars = (*section.bars[:place], bar, *section.bars[place + 1 :])
    return [*sections[:number], attrs.evolve(section, bars=bars), *sections[number + 1 :]]


_CALLED: Final = {
    "repeat_start": "start of a repeat",
    "repeat_end": "end of a repeat",
    "endings": "ending",
    "to_coda": "To Coda",
}
