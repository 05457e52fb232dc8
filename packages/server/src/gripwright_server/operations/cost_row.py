"""The costs of a line as rows carry them, and what their parts weigh."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, ClassVar, Final, TypedDict

import attrs

from gripwright_server.operations.option import option

if TYPE_CHECKING:
    from gripwright.leading.cost import LineWeights, StepCost

_THOUSAND: Final = 1000


@attrs.frozen(kw_only=True, slots=False)
class WeightOptions:
    """What each part of a step weighs, in half steps of voice motion."""

    heading: ClassVar[str] = "What a step costs"

    weigh_motion: float = option(
        help="weight of a half step that a voice moves", default=1.0, ge=0, le=100
    )
    weigh_stranger: int = option(
        help="half steps that a voice pays which enters or leaves", default=4, ge=0, le=100
    )
    weigh_travel: float = option(
        help="weight of a mm that the hand travels along the neck", default=0.05, ge=0, le=100
    )
    weigh_ease: float = option(
        help="weight of the awkwardness of the grip, as the teaching order has it",
        default=0.12,
        ge=0,
        le=100,
    )


class CostRow(TypedDict):
    """What a step costs, in half steps of voice motion, to a thousandth.

    Keys: ``motion``, voices that move, enter or leave; ``travel``, the hand along the neck;
    ``top``, the top line; ``ease``, the awkwardness of the grip; ``surcharge``, what the grip pays
    for having been used or known; ``total``, all of them.
    """

    motion: float
    travel: float
    top: float
    ease: float
    surcharge: float
    total: float


def cost_row(costs: "Iterable[StepCost]") -> CostRow:
    """The parts of costs, added up.

    Args:
        costs: Costs in thousandths of a half step.

    Example:
        >>> from gripwright.leading import StepCost
        >>> cost_row([StepCost(3000, 850, 0, 500), StepCost(1000, 0, 2000, 250)])["total"]
        7.6
    """
    every = list(costs)
    return CostRow(
        motion=sum(cost.motion for cost in every) / _THOUSAND,
        travel=sum(cost.travel for cost in every) / _THOUSAND,
        top=sum(cost.top for cost in every) / _THOUSAND,
        ease=sum(cost.ease for cost in every) / _THOUSAND,
        surcharge=sum(cost.surcharge for cost in every) / _THOUSAND,
        total=sum(cost.total for cost in every) / _THOUSAND,
    )


def weights_of(request: WeightOptions, *, top: float = 1.0) -> "LineWeights":
    """The weights of a request.

    Args:
        request: The request.
        top: The weight of the top line, for operations that weigh it.

    Example:
        >>> weights_of(WeightOptions(weigh_travel=0.1)).travel
        0.1
    """
    from gripwright.leading.cost import LineWeights  # noqa: PLC0415 - help must not load NumPy

    return LineWeights(
        motion=request.weigh_motion,
        stranger=request.weigh_stranger,
        travel=request.weigh_travel,
        top=top,
        ease=request.weigh_ease,
    )
