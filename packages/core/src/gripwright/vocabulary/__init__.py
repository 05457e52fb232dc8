"""The player's vocabulary: what is known, what is new, what is due today.

Pure: no storage, no clock, no randomness but by a seed. Due reviews and the rung of the ladder
come in as values.
"""

from gripwright.vocabulary.category import Category, categories
from gripwright.vocabulary.caution import CAUTIONS
from gripwright.vocabulary.context import Context, context_of
from gripwright.vocabulary.entry import STATES, Entry, Facts, category_in_words
from gripwright.vocabulary.gap import SYLLABUS, Gap, gaps, grips_for
from gripwright.vocabulary.grade import GRADES, KNOWN_ALREADY, Grade, grade_of
from gripwright.vocabulary.ladder_place import LadderPlace
from gripwright.vocabulary.new_grip import NewGrip, NewGripWeights, choose_new_grip
from gripwright.vocabulary.passage import Passage, passage_of
from gripwright.vocabulary.placing import fits_hand, is_movable, on_root, round_the_fourths
from gripwright.vocabulary.plan import Block, DayPlan, Due, Rung, plan_day
from gripwright.vocabulary.profile import Profile
from gripwright.vocabulary.prompt import Prompt, Verdict, check_answer, prompt_for
from gripwright.vocabulary.questioning import Question, grip_for, question, serves
from gripwright.vocabulary.starter import StarterGrip, starter_set
from gripwright.vocabulary.strings import StringGroup, string_groups

__all__ = [
    "CAUTIONS",
    "GRADES",
    "KNOWN_ALREADY",
    "STATES",
    "SYLLABUS",
    "Block",
    "Category",
    "Context",
    "DayPlan",
    "Due",
    "Entry",
    "Facts",
    "Gap",
    "Grade",
    "LadderPlace",
    "NewGrip",
    "NewGripWeights",
    "Passage",
    "Profile",
    "Prompt",
    "Question",
    "Rung",
    "StarterGrip",
    "StringGroup",
    "Verdict",
    "categories",
    "category_in_words",
    "check_answer",
    "choose_new_grip",
    "context_of",
    "fits_hand",
    "gaps",
    "grade_of",
    "grip_for",
    "grips_for",
    "is_movable",
    "on_root",
    "passage_of",
    "plan_day",
    "prompt_for",
    "question",
    "round_the_fourths",
    "serves",
    "starter_set",
    "string_groups",
]
