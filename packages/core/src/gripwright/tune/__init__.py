"""Tunes: charts as text, their forms as played, and the generic forms of the trade.

Nothing here knows an instrument, and nothing imports NumPy.
"""

from gripwright.tune.bar import JUMPS, OPEN, PLAIN, Bar, Slot
from gripwright.tune.capo import CapoChart, capo_chart
from gripwright.tune.chart import Chart
from gripwright.tune.chord_scale import ChordScale, chart_scales, chord_scale
from gripwright.tune.forms import Form, forms
from gripwright.tune.key import Key
from gripwright.tune.leadsheet import LeadSheet, PlayedNote, read_leadsheet
from gripwright.tune.leadsheet_melody import MelodyNote
from gripwright.tune.leadsheet_writer import write_leadsheet
from gripwright.tune.numeral import Numeral
from gripwright.tune.numeral_chart import as_numerals, numeral_chart, realised
from gripwright.tune.section import Section, Settings
from gripwright.tune.transpose import transposed
from gripwright.tune.unfold import PlayedBar, PlayedHit, Span, Unfolded
from gripwright.tune.written import WrittenBar

__all__ = [
    "JUMPS",
    "OPEN",
    "PLAIN",
    "Bar",
    "CapoChart",
    "Chart",
    "ChordScale",
    "Form",
    "Key",
    "LeadSheet",
    "MelodyNote",
    "Numeral",
    "PlayedBar",
    "PlayedHit",
    "PlayedNote",
    "Section",
    "Settings",
    "Slot",
    "Span",
    "Unfolded",
    "WrittenBar",
    "as_numerals",
    "capo_chart",
    "chart_scales",
    "chord_scale",
    "forms",
    "numeral_chart",
    "read_leadsheet",
    "realised",
    "transposed",
    "write_leadsheet",
]
