"""The harmony element of MusicXML, read as a chord."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final
from xml.etree.ElementTree import Element

import attrs

from gripwright.errors import ChordSymbolError
from gripwright.theory.canonical import canonical_quality
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import Interval, natural_semitones
from gripwright.theory.modifier import ADDITIONS, ALTERATIONS, Modifier, tones_of
from gripwright.theory.note import LETTERS, Note
from gripwright.theory.quality import QUALITIES, Quality, essential_groups, in_order
from gripwright.theory.symbol import MOST_ACCIDENTALS
from gripwright.tune.key import Key
from gripwright.tune.leadsheet_elements import text_of, whole_of
from gripwright.tune.leadsheet_kinds import NONE, OTHER, DegreeChange, kind_table

HARMONY_WITHOUT_CHORD: Final = "a chord symbol without a root that can be read is left out"

_THIRD: Final = 3
_HIGHEST: Final = 13
_TENSIONS: Final = {2: 9, 4: 11}
_PARALLEL: Final = {9: 2, 11: 4, 13: 6}
_SHARP: Final = "#"
_FLAT: Final = "b"


@attrs.frozen
class HarmonyReading:
    """What a harmony element says.

    Args:
        chord: The chord; None for N.C., and where it cannot be read.
        readable: Whether it can be read.
        warnings: What was guessed or left out, a sentence each.
    """

    chord: Chord | None
    readable: bool = True
    warnings: tuple[str, ...] = ()


def read_harmony(element: Element, key: Key | None = None) -> HarmonyReading:
    """Read a harmony element.

    A kind is what the trade's symbol of that name says: ``dominant-13th`` is 13 and leaves the 11
    out, although the schema stacks thirds literally. Degrees are added, altered and subtracted as
    MusicXML 4.0 says; altering or subtracting one that the chord lacks is not held against a file.
    Kinds outside the schema are read as symbols, with a warning. Of several chords in one element
    the first is read.

    Args:
        element: The element.
        key: The key in force, for roots written as numerals.

    Returns:
        The chord and warnings.

    Example:
        >>> from xml.etree.ElementTree import fromstring
        >>> text = "<root><root-step>D</root-step></root><kind>minor-seventh</kind>"
        >>> str(read_harmony(fromstring(f"<harmony>{text}</harmony>")).chord)
        'Dm7'
    """
    kind_element = element.find("kind")
    written = text_of(element, "kind")
    shown = (kind_element.get("text", "") if kind_element is not None else "").strip()
    table = kind_table()
    kind = table.settle(written)
    if kind == NONE or (kind is None and table.settle(shown) == NONE):
        return HarmonyReading(None)
    root = _root(element, key)
    if root is None:
        return HarmonyReading(None, readable=False, warnings=(HARMONY_WITHOUT_CHORD,))
    changes, warnings = _changes(element)
    if len(element.findall("kind")) > 1:
        warnings.append("of several chords in one symbol the first is read")
    if kind is not None and not (kind == OTHER and not changes):
        base = table.kinds[kind]
        if kind != written:
            warnings.append(f"the kind {written[:40]!r} is not of MusicXML; read as {kind!r}")
        if kind in table.open:
            warnings.append(f"{root}{base.name} is read for the kind {kind!r}, which has no tones")
        if not changes:
            warnings += _doubts(root, base, shown)
    else:
        base = _from_text(root, written if kind is None else "", shown, warnings)
    quality = _changed(base, changes, warnings)
    bass = _note(element.find("bass"), "bass")
    if bass is None:
        bass = _inversion(element, root, quality, warnings)
    chord = Chord(root, quality, bass)
    return HarmonyReading(chord, warnings=tuple(warnings))


def _note(element: Element | None, stem: str) -> Note | None:
    if element is None:
        return None
    step = text_of(element, f"{stem}-step").upper()
    alteration = whole_of(element.findtext(f"{stem}-alter") or "0")
    if step not in LETTERS or len(step) != 1 or alteration is None:
        return None
    return Note(step, alteration) if abs(alteration) <= MOST_ACCIDENTALS else None


def _root(element: Element, key: Key | None) -> Note | None:
    root = element.find("root")
    if root is not None:
        return _note(root, "root")
    numeral = element.find("numeral")
    if numeral is None:
        return None
    fifths = whole_of(text_of(numeral, "numeral-key/numeral-fifths"))
    if fifths is not None:
        minor = text_of(numeral, "numeral-key/numeral-mode").endswith("minor")
        key = key_of(fifths, "minor" if minor else "major")
    number = whole_of(text_of(numeral, "numeral-root"))
    alteration = whole_of(numeral.findtext("numeral-alter") or "0")
    if key is None or number is None or alteration is None or not 1 <= number <= len(LETTERS):
        return None
    return _scale_note(key, number - 1, alteration)


def _scale_note(key: Key, steps: int, alteration: int) -> Note | None:
    flattened = key.minor and steps in {2, 5, 6}
    semitones = natural_semitones(steps) - flattened + alteration
    note = key.tonic + Interval(steps, semitones)
    return note if abs(note.alteration) <= MOST_ACCIDENTALS else None


_MODES: Final = {
    "lydian": (-1, False),
    "major": (0, False),
    "ionian": (0, False),
    "mixolydian": (1, False),
    "dorian": (2, True),
    "minor": (3, True),
    "aeolian": (3, True),
    "phrygian": (4, True),
    "locrian": (5, True),
}
"""How many fifths above the major tonic of a signature the tonic of each mode stands."""


def key_of(fifths: int, mode: str) -> Key | None:
    """The key of a signature: of a church mode, the major or minor key on its tonic.

    Example:
        >>> str(key_of(-3, "minor")), str(key_of(0, "dorian")), key_of(9, "major")
        ('Cm', 'Dm', None)
    """
    shift, minor = _MODES.get(mode.lower(), _MODES["major"])
    if abs(fifths) > len(LETTERS):
        return None
    place = fifths + shift + 1
    tonic = Note("FCGDAEB"[place % len(LETTERS)], place // len(LETTERS))
    wanted = place - 1 - 3 * minor
    return Key(tonic, minor) if abs(wanted) <= len(LETTERS) else None


def _changes(element: Element) -> tuple[list[DegreeChange], list[str]]:
    changes, warnings = [], []
    for degree in element.findall("degree"):
        value = whole_of(degree.findtext("degree-value"))
        alter = whole_of(degree.findtext("degree-alter") or "0")
        type_ = text_of(degree, "degree-type").lower() or "add"
        if (
            value is None
            or alter is None
            or not 1 <= value <= _HIGHEST
            or abs(alter) > 2  # noqa: PLR2004 - a double flat or sharp
            or type_ not in {"add", "alter", "subtract"}
        ):
            warnings.append("a degree of a chord symbol that cannot be read is left out")
        else:
            changes.append(DegreeChange(type_, value, alter))
    return changes, warnings


def _doubts(root: Note, base: Quality, shown: str) -> Iterator[str]:
    """Whether the text that is printed says another chord than the kind."""
    if not shown:
        return
    try:
        said = Chord.parse(f"{root}{shown}")
    except ChordSymbolError:
        return
    if said.degrees != base.degrees:
        yield f"the file shows {said} but says {root}{base.name}, which is read"


def _from_text(root: Note, written: str, shown: str, warnings: list[str]) -> Quality:
    """The quality of a kind that is not of the schema, from its text or the text shown."""
    for text in (written, shown):
        for tried in dict.fromkeys((text, text.lower())):
            try:
                chord = Chord.parse(f"{root}{tried}")
            except ChordSymbolError:
                continue
            if not text or chord.bass is not None:
                continue
            warnings.append(f"the kind {text[:40]!r} is not of MusicXML; read as {chord}")
            return chord.quality
    warnings.append(
        f"the kind {(written or shown)[:40]!r} cannot be read; root and fifth alone are kept"
    )
    return QUALITIES["5"]


def _changed(base: Quality, changes: list[DegreeChange], warnings: list[str]) -> Quality:
    if not changes:
        return base
    final, named = _final_tones(base, changes)
    for quality in QUALITIES.values():
        if quality.degrees == final:
            return quality
    for groups in _groups(base, final, named):
        try:
            return canonical_quality(final, groups)
        except LookupError:
            continue
    warnings.append(
        f"no chord symbol has the tones {' '.join(final) or '(none)'}; "
        f"read as {base.name or 'a major triad'} without its changes"
    )
    return base


def _final_tones(
    base: Quality, changes: list[DegreeChange]
) -> tuple[tuple[Degree, ...], frozenset[Degree]]:
    """The tones after all changes, in whatever order they stand, and those that changed."""
    tones = set(base.degrees)
    # What is taken away is what the kind has, never what another degree adds.
    for change in changes:
        if change.type == "subtract":
            gone = {change.value, _TENSIONS.get(change.value), _PARALLEL.get(change.value)}
            own = {tone for tone in tones if tone.number == change.value}
            tones -= own or {tone for tone in tones if tone.number in gone}
    thirdless = all(tone.number != _THIRD for tone in tones) and all(
        change.type == "subtract" or change.value != _THIRD for change in changes
    )
    named = set()
    for change in changes:
        if change.type == "subtract":
            continue
        own = {tone for tone in base.degrees if tone.number == change.value}
        if change.type == "alter" and own:
            tones -= own
            alterations = {tone.alteration + change.alter for tone in own}
        else:
            alterations = {change.from_major}
        value = change.value if thirdless else _TENSIONS.get(change.value, change.value)
        for alteration in alterations:
            sign = _SHARP * alteration or _FLAT * -alteration
            named.add(Degree(f"{sign}{value}"))
    tones |= named
    if any(tone.number == 7 for tone in tones):  # noqa: PLR2004 - beside a seventh a 6 is a 13
        sixths = {tone for tone in tones if tone.number == 6 and tone in named}  # noqa: PLR2004
        tones = tones - sixths | {tone.as_tension for tone in sixths}
        named = named - sixths | {tone.as_tension for tone in sixths}
    return in_order(tones), frozenset(named)


def _groups(
    base: Quality, final: tuple[Degree, ...], named: frozenset[Degree]
) -> Iterator[tuple[tuple[Degree, ...], ...]]:
    """The groups of essential tones that a symbol of these tones may have, best first."""
    extra = [tone for tone in final if tone not in base.degrees]
    numbers = {tone.number for tone in final if not tone.alteration}
    modifiers = [
        Modifier("alter" if tone in ALTERATIONS and tone.number not in numbers else "add", tone)
        for tone in extra
        if tone in ADDITIONS
    ]
    modifiers += [Modifier("suspend", tone) for tone in extra if tone in {"2", "4"}]
    replaced = {modifier.tone.number for modifier in modifiers if modifier.kind == "alter"}
    kept = {tone.number for tone in final} | replaced
    modifiers += [Modifier("omit", tone) for tone in base.degrees if tone.number not in kept]
    degrees, groups = tones_of(base, modifiers)
    if degrees == final:
        yield groups
    yield essential_groups(final, named | (base.named & set(final)))
    yield essential_groups(final, ())


def _inversion(element: Element, root: Note, quality: Quality, warnings: list[str]) -> Note | None:
    number = whole_of(element.findtext("inversion"))
    if not number:
        return None
    tones = quality.degrees
    if not 0 < number < len(tones):
        warnings.append(f"{root}{quality.name} has no inversion {number}; its root is the bass")
        return None
    bass = root + tones[number].interval
    return bass if abs(bass.alteration) <= MOST_ACCIDENTALS else None
