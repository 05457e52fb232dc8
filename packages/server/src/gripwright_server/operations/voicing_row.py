"""One voicing as a row."""

import attrs


@attrs.frozen(kw_only=True)
class VoicingRow:
    """A row: one voicing, strings from the bass side to the treble side.

    Args:
        id: Instrument and shape; it names the grip, not the chord.
        frets: Fret of each string; None where it is muted, 0 where it is open.
        pitches: Pitches of the sounding strings, spelled for the chord.
        degrees: Degrees of the sounding strings.
        reach_mm: Distance along the neck from the nearest to the farthest fretted note in mm,
            to a tenth.
        presses: Presses of the fretting hand.
        fingers: Finger on each string, 1 index to 4 little; None where none presses.
        notes: Strings that sound.
        open_strings: Strings that sound open.
        bass_degree: Degree of the lowest pitch.
        top_degree: Degree of the highest pitch.
        inversion: ``"root"``, ``"1st"`` and so on by the lowest pitch; ``"foreign"`` for a bass
            that is no tone of the symbol.
        string_set: The sounding strings as players number them, 1 on the treble side.
        families: Every family of voicings that it belongs to, by what sounds.
        added: Degrees that sound and are not in the symbol.
        left_out: Degrees of the symbol that do not sound.
    """

    id: str
    frets: tuple[int | None, ...]
    pitches: tuple[str, ...]
    degrees: tuple[str, ...]
    reach_mm: float
    presses: int
    fingers: tuple[int | None, ...]
    notes: int
    open_strings: int
    bass_degree: str
    top_degree: str
    inversion: str
    string_set: tuple[int, ...]
    families: tuple[str, ...]
    added: tuple[str, ...]
    left_out: tuple[str, ...]
