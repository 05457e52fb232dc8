"""Review prompts: a grip asked for in words and a key, or shown and asked about."""

from __future__ import annotations

import random
from typing import Final, Literal, get_args

import attrs

from gripwright.errors import ConditionError, NotationError
from gripwright.neck.instrument import Instrument
from gripwright.neck.shape import Shape
from gripwright.neck.voicing import Voicing
from gripwright.theory.chord import Chord
from gripwright.theory.degree import Degree
from gripwright.theory.interval import SEMITONES_IN_OCTAVE
from gripwright.theory.note import Note
from gripwright.vocabulary.entry import Facts
from gripwright.vocabulary.placing import BODY_JOINS, on_root, usual_root
from gripwright.vocabulary.questioning import grip_for, question, serves
from gripwright.vocabulary.strings import in_words
from gripwright.vocabulary.words import degree_in_words, quality_in_words

PromptKind = Literal["grip", "note", "degree", "other-chord"]

KINDS: Final[tuple[PromptKind, ...]] = get_args(PromptKind)
"""What a prompt asks for: the hidden grip; or, of one that is shown, the note or the degree of a
string, or another chord that it can be."""

_HIDDEN_IN: Final = 3
_SAID_IN_WORDS: Final = frozenset({"", "m", "5"})


@attrs.frozen
class Verdict:
    """What an answer is worth.

    Args:
        right: Whether it is right.
        sentence: The same in words, with what was asked for where it is wrong.

    Example:
        >>> Verdict(right=False, sentence="it is b3, not 3").right
        False
    """

    right: bool
    sentence: str


@attrs.frozen
class Prompt:
    """One question about a grip that is due.

    Args:
        kind: What it asks for.
        entry_id: The entry that it is about.
        grip: The grip on the root of the question. Where `kind` is ``"grip"``, this is hidden
            until it is found.
        string: The string that it asks about, 1 on the treble side, or None.

    Example:
        >>> from gripwright import Instrument, Voicing
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> facts = Facts.of(Voicing(Chord.parse("Cm7b5"), guitar, (-1, 3, 4, 3, 4, -1)))
        >>> prompt = prompt_for(facts, guitar, seed="monday", kind="grip")
        >>> print(prompt.text)
        m7b5, minor third on top, the inner strings, in D#
        >>> check_answer(prompt, "x-6-7-6-7-x").sentence
        'right: x-6-7-6-7-x'
        >>> check_answer(prompt, "x-0-1-0-1-x").right
        False
    """

    kind: PromptKind
    entry_id: str
    grip: Voicing
    string: int | None = None

    @property
    def hidden(self) -> bool:
        """Whether the grip is hidden until it is found."""
        return self.kind == "grip"

    @property
    def text(self) -> str:
        """The question."""
        chord = self.grip.chord
        if self.kind == "grip":
            name = chord.quality.name
            name = quality_in_words(name) if name in _SAID_IN_WORDS else name
            bass = f" over {chord.bass}" if chord.foreign_bass else ""
            strings = in_words(self.grip.string_set, len(self.grip.frets))
            top = degree_in_words(self.grip.top_degree)
            return f"{name}{bass}, {top} on top, {strings}, in {chord.root}"
        shown = f"{self.grip.shape} as {chord}"
        if self.kind == "note":
            return f"{shown}: which note sounds on string {self.string}?"
        if self.kind == "degree":
            return f"{shown}: which degree sounds on string {self.string}?"
        return f"{shown}: which other chord can it be?"

    @property
    def answers(self) -> tuple[str, ...]:
        """Right answers, the first of them the one to show."""
        if self.kind == "grip":
            places = on_root(self.grip, self.grip.chord.root)
            return tuple(place.shape for place in places)
        if self.kind == "other-chord":
            return tuple(str(other.chord) for other in _others(self.grip))
        return (str(self._asked[0] if self.kind == "note" else self._asked[1]),)

    @property
    def _asked(self) -> tuple[Note, Degree]:
        """Note and degree of the string that is asked about."""
        place = self.grip.string_set.index(self.string or 0)
        return self.grip.notes[place], self.grip.degrees[place]


def prompt_for(
    facts: Facts, instrument: Instrument, *, seed: str, kind: PromptKind | None = None
) -> Prompt:
    """A question about an entry; the same seed asks the same.

    Two in three hide the grip and ask for it on a random root; the others show it there.

    Args:
        facts: What is known of the entry's grip.
        instrument: Its instrument.
        seed: What tells this question from others, such as the day.
        kind: What to ask for; chosen by the seed if not given.

    Raises:
        ConditionError: An unknown kind.

    Example:
        >>> from gripwright import Instrument, Voicing
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> facts = Facts.of(Voicing(Chord.parse("Cm7b5"), guitar, (-1, 3, 4, 3, 4, -1)))
        >>> first = prompt_for(facts, guitar, seed="monday")
        >>> first == prompt_for(facts, guitar, seed="monday")
        True
    """
    if kind is not None and kind not in KINDS:
        raise ConditionError(name="kind", value=kind, expected=" or ".join(KINDS))
    dice = random.Random(f"{seed}/{facts.id}")  # noqa: S311 - variety, no secret
    grip = facts.voicing(instrument)
    shown = [*KINDS[1:]] if len(serves(grip)) > 1 else [*KINDS[1:-1]]
    drawn: PromptKind = "grip" if dice.randrange(_HIDDEN_IN) else dice.choice(shown)
    tones = list(range(SEMITONES_IN_OCTAVE))
    dice.shuffle(tones)
    # Of twelve roots one always has a place, the grip's own.
    roots = (usual_root(grip.chord.quality, tone) for tone in tones)
    places = next(found for root in roots if (found := on_root(grip, root)))
    within_reach = [place for place in places if max(place.frets) <= BODY_JOINS]
    string = dice.choice(grip.string_set)
    asked = kind or drawn
    return Prompt(
        asked,
        facts.id,
        dice.choice(within_reach or places[:1]),
        string if asked in {"note", "degree"} else None,
    )


def check_answer(prompt: Prompt, answer: str) -> Verdict:
    """Whether an answer to a prompt is right.

    A hidden grip is found at any of its places. Another grip that the words fit too is right,
    and is told apart. A note counts by its sound; another spelling is told.

    Args:
        prompt: The prompt.
        answer: A shape, a note, a degree or a chord symbol, as the prompt asks.

    Raises:
        NotationError: The answer is not of the kind that is asked for.

    Example:
        >>> from gripwright import Instrument, Voicing
        >>> guitar = Instrument.from_text("E2 A2 D3 G3 B3 E4")
        >>> facts = Facts.of(Voicing(Chord.parse("Am7"), guitar, (-1, -1, 7, 9, 8, 8)))
        >>> prompt = prompt_for(facts, guitar, seed="monday", kind="other-chord")
        >>> str(prompt.grip.chord), check_answer(prompt, "Ab6").right
        ('Fm7', True)
    """
    checks = {
        "grip": _check_grip,
        "note": _check_note,
        "degree": _check_degree,
        "other-chord": _check_chord,
    }
    return checks[prompt.kind](prompt, answer.strip())


def _check_grip(prompt: Prompt, answer: str) -> Verdict:
    shape = str(Shape.parse(answer))
    if shape in prompt.answers:
        return Verdict(right=True, sentence=f"right: {shape}")
    try:
        played = grip_for(prompt.grip.chord, prompt.grip.instrument, Shape.parse(answer).frets)
    except ConditionError as error:
        raise NotationError(
            what="shape", text=answer, position=0, expected=error.expected
        ) from error
    fits = (
        question(played) is None
        and played.top_degree == prompt.grip.top_degree
        and played.string_set == prompt.grip.string_set
    )
    if fits:
        return Verdict(
            right=True, sentence=f"{shape} fits the words; the grip meant is {prompt.answers[0]}"
        )
    return _wrong(prompt)


def _check_note(prompt: Prompt, answer: str) -> Verdict:
    note, asked = Note.parse(answer), Note.parse(prompt.answers[0])
    if note == asked:
        return Verdict(right=True, sentence=f"right: {asked}")
    if note.pitch_class == asked.pitch_class:
        return Verdict(right=True, sentence=f"right by sound; in {prompt.grip.chord} it is {asked}")
    return _wrong(prompt)


def _check_degree(prompt: Prompt, answer: str) -> Verdict:
    degree, asked = Degree(answer), Degree(prompt.answers[0])
    if degree == asked:
        return Verdict(right=True, sentence=f"right: {asked}")
    if degree.pitch_class == asked.pitch_class:
        sentence = f"right by sound; in {prompt.grip.chord} it is the {asked}"
        return Verdict(right=True, sentence=sentence)
    return _wrong(prompt)


def _check_chord(prompt: Prompt, answer: str) -> Verdict:
    chord, own = Chord.parse(answer), prompt.grip.chord
    same = chord.root.pitch_class == own.root.pitch_class and chord.quality == own.quality
    if same and not chord.foreign_bass:
        return Verdict(
            right=False, sentence=f"{chord} is what it is shown as; another name is asked"
        )
    played = grip_for(chord, prompt.grip.instrument, prompt.grip.frets)
    if question(played) is None:
        return Verdict(right=True, sentence=f"right: {chord}")
    return _wrong(prompt)


def _wrong(prompt: Prompt) -> Verdict:
    return Verdict(right=False, sentence=f"not yet: {prompt.answers[0]}")


def _others(grip: Voicing) -> tuple[Voicing, ...]:
    return tuple(other for other in serves(grip) if other.chord != grip.chord)
