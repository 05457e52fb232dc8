"""Leading: from chord to chord with the least motion."""

from gripwright.leading.band import BANDS, Band
from gripwright.leading.cost import LineWeights, StepCost
from gripwright.leading.line import Line, LineStep, choruses, lead
from gripwright.leading.motion import voice_motion

__all__ = [
    "BANDS",
    "Band",
    "Line",
    "LineStep",
    "LineWeights",
    "StepCost",
    "choruses",
    "lead",
    "voice_motion",
]
