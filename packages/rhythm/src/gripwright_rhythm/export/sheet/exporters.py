"""The practice sheet as formats: SVG and PDF, of the same pages."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import TYPE_CHECKING, ClassVar, Literal, get_args

import attrs

from gripwright.errors import ConditionError
from gripwright_rhythm.export.sheet.paper import PAPERS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from gripwright import Hand, Score  # noqa: TC004 - a list of formats must load no NumPy
    from gripwright_rhythm.export.sheet.page import Page

GripsShown = Literal["drawn", "overleaf", "none"]


@attrs.frozen(kw_only=True)
class _SheetExporter(ABC):
    """What both formats share: the settings of a sheet.

    Args:
        paper: The paper: ``a4`` or ``letter``.
        grips: Whether grips are ``drawn``, left out (``none``), or left out on a first page and
            drawn on one after it (``overleaf``), to read the first one cold.
        label: What the dots of grips carry: ``degree``, ``note``, ``finger``, ``interval`` or
            ``none``.
        left_handed: Mirror the necks for a left-handed player.
        theme: The colours: ``print`` in black, white and grey, ``light`` or ``dark``.
        hand: The hand whose fingers are named; the usual one if not given.

    Raises:
        UnknownNameError: There is no such paper.
        ConditionError: `grips` is none of its three.
    """

    paper: str = attrs.field(default="a4")
    grips: GripsShown = attrs.field(default="drawn")
    label: str = attrs.field(default="degree")
    left_handed: bool = attrs.field(default=False)
    theme: str = attrs.field(default="print")
    hand: Hand | None = attrs.field(default=None)

    @paper.validator
    def _check_paper(self, _attribute: object, value: str) -> None:
        PAPERS[value]

    @grips.validator
    def _check_grips(self, _attribute: object, value: str) -> None:
        if value not in get_args(GripsShown):
            raise ConditionError(
                name="grips", value=value, expected=f"one of {', '.join(get_args(GripsShown))}"
            )

    def pages(self, scores: Iterable[Score]) -> tuple[Page, ...]:
        """The pages of scores, one score after the other.

        Args:
            scores: The scores: several tunes, or a tune in several keys.

        Raises:
            UnknownNameError: There is no such label or theme.
            ConditionError: There is no score, or fingers are asked for and no hand has enough.
        """
        # Late on purpose: plugins are loaded without what their formats need.
        from gripwright_rhythm.export.sheet.card import Grips  # noqa: PLC0415
        from gripwright_rhythm.export.sheet.colours import Colours  # noqa: PLC0415
        from gripwright_rhythm.export.sheet.layout import SheetLook, sheet_pages  # noqa: PLC0415

        drawn = Grips(label=self.label, left_handed=self.left_handed, hand=self.hand)
        look = SheetLook(paper=PAPERS[self.paper], colours=Colours.of(self.theme), grips=drawn)
        cold = attrs.evolve(look, grips=attrs.evolve(drawn, drawn=False))
        pages: list[Page] = []
        for score in scores:
            if self.grips == "none":
                pages += sheet_pages(score, cold)
            elif self.grips == "overleaf":
                pages += sheet_pages(score, cold, remark="without grips: read it cold")
                pages += sheet_pages(score, look, remark="with its grips")
            else:
                pages += sheet_pages(score, look)
        if not pages:
            raise ConditionError(name="scores", value="none", expected="one score or more")
        return tuple(pages)

    def export(self, score: Score, /) -> bytes:
        """Draw a score.

        Args:
            score: The score.

        Raises:
            UnknownNameError: There is no such label or theme.
            ConditionError: Fingers are asked for and no hand has enough of them.
        """
        return self.export_all((score,))

    def export_all(self, scores: Iterable[Score], /) -> bytes:
        """Draw several scores in one file: several tunes, or a tune in several keys.

        Args:
            scores: The scores, one or more.

        Raises:
            UnknownNameError: There is no such label or theme.
            ConditionError: There is no score, or fingers are asked for and no hand has enough.
        """
        return self._file(self.pages(scores))

    @staticmethod
    @abstractmethod
    def _file(pages: tuple[Page, ...]) -> bytes:
        """The pages in one file."""


@attrs.frozen(kw_only=True)
class SheetSvgExporter(_SheetExporter):
    """Draws the practice sheet as SVG: the form bar by bar, each grip, and strips of time.

    Under each bar stands a strip on which every chord is a bar from its exact start to its exact
    end, over the beats and the clicks. Choruses that are alike are drawn once. Several pages stand
    one under the other. Equal scores give equal bytes, all of them ASCII (SVG 1.1).

    Args:
        paper: The paper: ``a4`` or ``letter``.
        grips: Whether grips are ``drawn``, left out (``none``), or left out on a first page and
            drawn on one after it (``overleaf``), to read the first one cold.
        label: What the dots of grips carry: ``degree``, ``note``, ``finger``, ``interval`` or
            ``none``.
        left_handed: Mirror the necks for a left-handed player.
        theme: The colours: ``print`` in black, white and grey, ``light`` or ``dark``.
        hand: The hand whose fingers are named; the usual one if not given.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> SheetSvgExporter(paper="letter").export(sample_score())[:60]
        b'<svg xmlns="http://www.w3.org/2000/svg" width="612pt" height'
    """

    name: ClassVar[str] = "svg"
    summary: ClassVar[str] = "practice sheet as a picture: grips over strips of time"
    suffixes: ClassVar[tuple[str, ...]] = (".svg",)
    media_type: ClassVar[str] = "image/svg+xml"

    @staticmethod
    def _file(pages: tuple[Page, ...]) -> bytes:
        from gripwright_rhythm.export.sheet.svg import pages_svg  # noqa: PLC0415 - as above

        return pages_svg(pages)


@attrs.frozen(kw_only=True)
class SheetPdfExporter(_SheetExporter):
    """Draws the practice sheet as PDF, by reportlab: the pages of `SheetSvgExporter`.

    The typeface, which has musical signs, is embedded as far as it is used; each page has its
    title among the bookmarks. Equal scores give equal bytes: there is no date.

    Args:
        paper: The paper: ``a4`` or ``letter``.
        grips: Whether grips are ``drawn``, left out (``none``), or left out on a first page and
            drawn on one after it (``overleaf``), to read the first one cold.
        label: What the dots of grips carry: ``degree``, ``note``, ``finger``, ``interval`` or
            ``none``.
        left_handed: Mirror the necks for a left-handed player.
        theme: The colours: ``print`` in black, white and grey, ``light`` or ``dark``.
        hand: The hand whose fingers are named; the usual one if not given.

    Example:
        >>> from gripwright.score.sample import sample_score
        >>> SheetPdfExporter(grips="overleaf").export(sample_score())[:5]
        b'%PDF-'
    """

    name: ClassVar[str] = "pdf"
    summary: ClassVar[str] = "practice sheet to be printed: grips over strips of time"
    suffixes: ClassVar[tuple[str, ...]] = (".pdf",)
    media_type: ClassVar[str] = "application/pdf"

    @staticmethod
    def _file(pages: tuple[Page, ...]) -> bytes:
        from gripwright_rhythm.export.sheet.pdf import pages_pdf  # noqa: PLC0415 - as above

        return pages_pdf(pages)
