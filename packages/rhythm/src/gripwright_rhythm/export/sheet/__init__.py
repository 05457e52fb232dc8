"""The practice sheet: the form bar by bar, each grip, and strips on which lengths are seen.

The exporters load nothing heavy; the ladder on paper stands in `ladder_sheet`, and what writes
pages as files in `svg` and `pdf`.
"""

from gripwright_rhythm.export.sheet.exporters import SheetPdfExporter, SheetSvgExporter

__all__ = ["SheetPdfExporter", "SheetSvgExporter"]
