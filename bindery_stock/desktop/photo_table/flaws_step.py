"""Flaws: holes, weak places, stains, stamping, glue."""

from dataclasses import replace

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel

from bindery_stock.bench.photo_table.found import Found, flaws_found
from bindery_stock.bench.photo_table.marks import FlawMark, StepName
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.session import Session
from bindery_stock.shape import FlawKind

_HINT = (
    "Choose the kind, then drag a rectangle over the place, or click round it. Nothing to mark? "
    "Pass on with Enter."
)
_KINDS = {
    FlawKind.HOLE: "Hole: nothing can be cut over it",
    FlawKind.WEAK: "Weak place: thin or rubbed",
    FlawKind.STAIN: "Stain",
    FlawKind.STAMPING: "Stamping: old lettering or ornament",
    FlawKind.GLUE: "Glue",
}


class FlawsStep(TableStep):
    """Marks flaws. Choosing a marked flaw lets its kind be changed."""

    name = StepName.FLAWS

    def __init__(self, session: Session) -> None:
        """Stains are the commonest."""
        super().__init__(session, _HINT)
        self.tool: RingTool = RingTool(_HINT, single=False)
        self.kind = QComboBox()
        for kind, words in _KINDS.items():
            self.kind.addItem(words, kind)
        self.kind.setCurrentIndex(list(_KINDS).index(FlawKind.STAIN))
        label = QLabel("&Kind")
        label.setBuddy(self.kind)
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(label)
        row.addWidget(self.kind, 1)
        self.column.addLayout(row)
        self.tool.marked.connect(self._drawn)
        self.tool.moved.connect(self._show_kind)
        self.kind.activated.connect(self._kind_chosen)

    def show_draft(self, draft: ScrapDraft) -> None:
        """Show the flaws, each with its kind."""
        super().show_draft(draft)
        flaws = draft.marks.flaws
        self.tool.show_rings(tuple(f.ring for f in flaws), tuple(f.kind.value for f in flaws))

    def finding(self, draft: ScrapDraft) -> Found:
        """The flaws, counted."""
        return flaws_found(draft.marks)

    @property
    def chosen_kind(self) -> FlawKind:
        """The kind the next flaw will have."""
        return FlawKind(self.kind.currentData())

    def _drawn(self) -> None:
        rings, old = self.tool.rings, self.marks.flaws
        kept = {flaw.ring: flaw.kind for flaw in old}
        if len(rings) == len(old):  # one was moved: they are still in order
            flaws = [FlawMark(ring, flaw.kind) for ring, flaw in zip(rings, old, strict=True)]
        else:
            flaws = [FlawMark(ring, kept.get(ring, self.chosen_kind)) for ring in rings]
        self.marked.emit(replace(self.marks, flaws=tuple(flaws)))

    def _show_kind(self) -> None:
        place = self.tool.chosen
        if place is not None and place < len(self.marks.flaws):
            self.kind.setCurrentIndex(list(_KINDS).index(self.marks.flaws[place].kind))

    def _kind_chosen(self) -> None:
        place, flaws = self.tool.chosen, list(self.marks.flaws)
        if place is not None and place < len(flaws):
            flaws[place] = replace(flaws[place], kind=self.chosen_kind)
            self.marked.emit(replace(self.marks, flaws=tuple(flaws)))
