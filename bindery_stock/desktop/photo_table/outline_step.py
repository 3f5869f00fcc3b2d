"""Outline: the true edge of the scrap."""

from dataclasses import replace

from bindery_stock.bench.findings import Finding, Standing, outline_found
from bindery_stock.bench.marks import Marks, StepName
from bindery_stock.desktop.photo_table.draft import Draft
from bindery_stock.desktop.photo_table.ring_tool import RingTool
from bindery_stock.desktop.photo_table.step import Step, words_label
from bindery_stock.desktop.session import Session
from bindery_stock.errors import EntryError

_HINT = "Drag a rectangle over the scrap, or click its corners one by one and close with Enter."
_MORE = (
    "Drag a point to mend it. Double click a side to put a point in; Delete takes the chosen one "
    "out. Stay inside the fray."
)


class OutlineStep(Step):
    """Draws the outline."""

    name = StepName.OUTLINE

    def __init__(self, session: Session) -> None:
        """Offer the rectangle first."""
        super().__init__(session, _HINT)
        self.tool: RingTool = RingTool(_HINT, single=True)
        self.column.addWidget(words_label(_MORE))
        self.tool.marked.connect(self._drawn)
        self.tool.moved.connect(self._say)

    def show_draft(self, draft: Draft) -> None:
        """Show the outline with its size beside it."""
        super().show_draft(draft)
        ring = draft.marks.outline
        self.tool.show_rings((ring,) if ring else ())
        self._say()

    def finding(self, draft: Draft) -> Finding:
        """Size and area, or that the sides cross."""
        return outline_found(draft.marks, self.session.settings.lengths)

    def accept(self) -> None:
        """Pass on only with a simple outline."""
        if self.draft is None:
            return
        found = self.finding(self.draft)
        if found.standing in (Standing.WANTED, Standing.WRONG):
            words = _HINT if found.standing is Standing.WANTED else f"{found.words}."
            raise EntryError(StepName.OUTLINE, f"Outline: {words[0].lower()}{words[1:]}")

    def _now(self) -> Marks:
        """The marks with the outline as it is being drawn."""
        rings = self.tool.rings
        return replace(self.marks, outline=rings[0] if rings else ())

    def _say(self) -> None:
        """Beside the outline: its size while it is dragged, or that its sides cross."""
        found = outline_found(self._now(), self.session.settings.lengths)
        self.tool.texts = (found.words if found.standing is not Standing.ASSUMED else "",)

    def _drawn(self) -> None:
        self.marked.emit(self._now())
