"""Tunes: charts as text, their forms as played, and the generic forms of the trade.

Nothing here knows an instrument, and nothing imports NumPy.
"""

from gripwright.tune.bar import JUMPS, OPEN, PLAIN, Bar, Slot
from gripwright.tune.chart import Chart
from gripwright.tune.forms import Form, forms
from gripwright.tune.key import Key
from gripwright.tune.section import Section, Settings
from gripwright.tune.unfold import PlayedBar, PlayedHit, Span, Unfolded
from gripwright.tune.written import WrittenBar

__all__ = [
    "JUMPS",
    "OPEN",
    "PLAIN",
    "Bar",
    "Chart",
    "Form",
    "Key",
    "PlayedBar",
    "PlayedHit",
    "Section",
    "Settings",
    "Slot",
    "Span",
    "Unfolded",
    "WrittenBar",
    "forms",
]
