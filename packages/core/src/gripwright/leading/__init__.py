"""Leading: from chord to chord with the least motion."""

from gripwright.leading.approach import Approach, approaches
from gripwright.leading.band import BANDS, Band
from gripwright.leading.cost import LineWeights, StepCost
from gripwright.leading.harmonised import harmonised, melody_tops
from gripwright.leading.line import Line, LineStep, choruses, lead
from gripwright.leading.motion import voice_motion
from gripwright.leading.pitch_class import pitch_class_motion
from gripwright.leading.study import Study, study

__all__ = [
    "BANDS",
    "Approach",
    "Band",
    "Line",
    "LineStep",
    "LineWeights",
    "StepCost",
    "Study",
    "approaches",
    "choruses",
    "harmonised",
    "lead",
    "melody_tops",
    "pitch_class_motion",
    "study",
    "voice_motion",
]
