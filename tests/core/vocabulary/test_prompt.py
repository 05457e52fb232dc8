"""Review prompts: the same seed asks the same, right answers are right, and wrong ones are not."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gripwright import ConditionError, NotationError, Voicing
from gripwright.errors import ChordSymbolError
from gripwright.vocabulary import Facts, check_answer, prompt_for
from gripwright.vocabulary.prompt import KINDS, Prompt
from tests.core.vocabulary.players import GUITAR, MOVABLE, grip, known

SEEDS = st.integers(0, 400).map(str)


def asked(symbol: str, shape: str, kind: str, string: int | None = None) -> Prompt:
    """Return a prompt about a grip where it stands."""
    voicing = grip(symbol, shape)
    return Prompt(kind, Facts.of(voicing).id, voicing, string)  # type: ignore[arg-type]


@given(voicing=MOVABLE, seed=SEEDS)
def test_the_same_seed_asks_the_same(voicing: Voicing, seed: str) -> None:
    """And asks it on a root where the grip can be held below the body."""
    facts = Facts.of(voicing)
    prompt = prompt_for(facts, GUITAR, seed=seed)
    assert prompt == prompt_for(facts, GUITAR, seed=seed)
    assert prompt.grip.degrees == facts.degrees
    assert prompt.hidden == (prompt.kind == "grip")
    assert prompt.hidden == (prompt.grip.shape not in prompt.text)


@given(voicing=MOVABLE, seed=SEEDS, kind=st.sampled_from(KINDS))
def test_every_right_answer_is_right(voicing: Voicing, seed: str, kind: str) -> None:
    """Each answer that a prompt knows is accepted."""
    prompt = prompt_for(Facts.of(voicing), GUITAR, seed=seed, kind=kind)  # type: ignore[arg-type]
    if kind != "other-chord":
        assert prompt.answers
    for answer in prompt.answers:
        assert check_answer(prompt, answer).right, answer


def test_seeds_bring_every_kind_and_many_keys() -> None:
    """Hidden grips most often, and every root in its turn."""
    facts = known(("Am7", "x-x-7-9-8-8"))[0]
    prompts = [prompt_for(facts, GUITAR, seed=str(seed)) for seed in range(300)]
    kinds = [prompt.kind for prompt in prompts]
    assert set(kinds) == set(KINDS)
    assert 150 < kinds.count("grip") < 250
    assert len({prompt.grip.chord.root for prompt in prompts}) == 12


def test_a_prompt_says_what_is_asked() -> None:
    """Kind of chord, tone on top, strings and key, as players say them."""
    assert asked("C", "x-3-2-0-1-0", "grip").text.startswith("major triad, third on top")
    assert asked("F/G", "3-x-3-2-1-1", "grip").text.startswith("major triad over G, ")
    assert asked("G7", "3-x-3-4-3-x", "note", 3).text == (
        "3-x-3-4-3-x as G7: which note sounds on string 3?"
    )


def test_the_m11_with_its_ninth_on_top_in_ab() -> None:
    """The wording of a review: the kind of chord, the top, the strings, and the key."""
    prompt = asked("Abm11", "x-9-9-8-11-x", "grip")
    assert prompt.text == "m11, ninth on top, the inner strings, in Ab"


def test_a_hidden_grip_is_found_at_any_place() -> None:
    """Both octaves count; another shape with the same words is told apart; others are wrong."""
    prompt = asked("Bb7", "x-1-3-1-3-x", "grip")
    assert check_answer(prompt, "x-13-15-13-15-x").right
    other = check_answer(prompt, "x-8-8-7-9-x")
    assert not other.right
    assert "x-1-3-1-3-x" in other.sentence


def test_another_grip_that_fits_the_words_is_right() -> None:
    """It is told which one was meant."""
    prompt = asked("C7", "x-3-5-3-5-x", "grip")
    verdict = check_answer(prompt, "x-3-2-3-5-x")
    assert verdict.right
    assert "the grip meant is x-3-5-3-5-x" in verdict.sentence


def test_a_note_counts_by_its_sound() -> None:
    """The other spelling is right, and is told."""
    prompt = asked("Ebm7", "x-6-8-6-7-x", "note", 2)
    assert prompt.answers == ("Gb",)
    assert check_answer(prompt, "Gb").sentence == "right: Gb"
    verdict = check_answer(prompt, "F#")
    assert verdict.right
    assert "in Ebm7 it is Gb" in verdict.sentence
    assert not check_answer(prompt, "G").right


def test_a_degree_counts_by_its_sound() -> None:
    """A sharp ninth is a minor third to the ear."""
    prompt = asked("C7#9", "x-3-2-3-4-x", "degree", 2)
    assert check_answer(prompt, "#9").sentence == "right: #9"
    assert check_answer(prompt, "b3").right
    assert not check_answer(prompt, "9").right


def test_another_chord_is_another() -> None:
    """Its own name is no answer, and neither is a chord of which it lacks tones."""
    prompt = asked("Am7", "x-x-7-9-8-8", "other-chord")
    assert check_answer(prompt, "C6").right
    assert check_answer(prompt, "Fmaj9").right
    assert not check_answer(prompt, "Am7").right
    assert not check_answer(prompt, "Cmaj7").right


@pytest.mark.parametrize(
    ("kind", "answer", "error"),
    [
        ("grip", "nowhere", NotationError),
        ("grip", "x-3-5", NotationError),
        ("note", "H", NotationError),
        ("degree", "third", NotationError),
        ("other-chord", "Cmaj77", ChordSymbolError),
    ],
)
def test_an_answer_of_another_kind_is_refused(
    kind: str, answer: str, error: type[Exception]
) -> None:
    """It is not wrong, but no answer."""
    prompt = asked("Am7", "x-x-7-9-8-8", kind, 4)
    with pytest.raises(error):
        check_answer(prompt, answer)


def test_an_unknown_kind_is_refused() -> None:
    """The kinds are named."""
    with pytest.raises(ConditionError, match="other-chord"):
        prompt_for(known(("C", "x-3-2-0-1-0"))[0], GUITAR, seed="1", kind="song")  # type: ignore[arg-type]
