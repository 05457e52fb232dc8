"""The library's own voicing strategies.

Each is a generator of recipes over a chord's degrees; none knows the neck.
"""

from gripwright.neck.strategies.whole import Whole

BUILTIN_STRATEGIES = (Whole(),)
"""Every strategy that the core brings, in order of name."""

__all__ = ["BUILTIN_STRATEGIES"]
