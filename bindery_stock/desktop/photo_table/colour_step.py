"""Colour: a clean patch on each face that is seen, measured in the background."""

from dataclasses import replace

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from bindery_stock.bench.findings import (
    Finding,
    Standing,
    colour_found,
    reading_words,
    trust_words,
)
from bindery_stock.bench.marks import PatchMark, StepName, suggested_patch
from bindery_stock.bench.shelving import COLOURED
from bindery_stock.colour import ColourReading, measure
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_table.draft import Draft
from bindery_stock.desktop.photo_table.ring_tool import RingTool
from bindery_stock.desktop.photo_table.step import Step, words_label
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.swatch import Swatch
from bindery_stock.errors import BinderyError, EntryError
from bindery_stock.shape import Ring
from bindery_stock.stock import FaceName

_HINT = (
    "Drag a rectangle over clean, even cloth, or press Enter to take the patch in the roomiest "
    "part of the outline."
)
_FACES = {
    FaceName.SHOWN: "Shown face",
    FaceName.SHELTERED: "Sheltered: under a turn-in",
    FaceName.REVERSE: "Reverse",
}


class ColourStep(Step):
    """Marks one patch for each face and shows what was read from it."""

    name = StepName.COLOUR

    def __init__(self, session: Session) -> None:
        """Begin with the shown face."""
        super().__init__(session, _HINT)
        self.tool: RingTool = RingTool(_HINT, single=False)
        self.face = QComboBox()
        for face, words in _FACES.items():
            self.face.addItem(words, face)
        label = QLabel("&Face")
        label.setBuddy(self.face)
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(label)
        row.addWidget(self.face, 1)
        self.swatch = Swatch(QSize(72, 56))
        self.reading = words_label()
        self.reading.setProperty("role", "")
        self.trust = words_label()
        beside = QVBoxLayout()
        beside.setSpacing(0)
        beside.addWidget(self.reading)
        beside.addStretch(1)
        colours = QHBoxLayout()
        colours.setSpacing(GRID * 2)
        colours.addWidget(self.swatch)
        colours.addLayout(beside, 1)
        self.suggestion_button = QPushButton("Take the suggested patch")
        self.without = QCheckBox("Shelve &without a colour")
        for part in (row, colours):
            self.column.addLayout(part)
        for widget in (self.trust, self.suggestion_button, self.without):
            self.column.addWidget(widget)
        self._suggested: Ring = ()
        self._measuring: set[PatchMark] = set()
        self.tool.marked.connect(self._drawn)
        self.face.activated.connect(lambda _index: self._show_reading())
        self.suggestion_button.clicked.connect(self.take_suggestion)
        self.without.toggled.connect(self._without_chosen)

    def show_draft(self, draft: Draft) -> None:
        """Show the patches, the suggestion, and what was read."""
        if self.draft is not draft:
            self._suggested = ()
        super().show_draft(draft)
        patches = draft.marks.patches
        self.tool.show_rings(
            tuple(p.ring for p in patches), tuple(f"{p.face} face" for p in patches)
        )
        self.without.blockSignals(True)
        self.without.setChecked(draft.marks.without_colour)
        self.without.blockSignals(False)
        for patch in patches:
            self._measure(draft, patch)
        self._show_reading()

    def finding(self, draft: Draft) -> Finding:
        """The colours read."""
        refused = [draft.refusals[p] for p in draft.marks.patches if p in draft.refusals]
        return colour_found(draft.marks, draft.facts or self.facts, draft.readings, refused)

    def begin(self) -> bool:
        """Read the suggested patch at once, so that it can be judged before it is taken."""
        self._suggest()
        return False

    def accept(self) -> None:
        """Take the suggested patch where none is marked."""
        marks = self.marks
        if not marks.patches and not marks.without_colour and self.facts.kind in COLOURED:
            self._suggest()
            if not self._suggested:
                raise EntryError(StepName.COLOUR, "Colour: draw the outline first, or a patch.")
            self.take_suggestion()
        if self.draft is not None:
            found = self.finding(self.draft)
            if found.standing is Standing.WRONG:
                raise EntryError(StepName.COLOUR, f"Colour: {found.words}")

    def take_suggestion(self) -> None:
        """Mark the suggested patch for the shown face."""
        self._suggest()
        if self._suggested:
            self._put(PatchMark(self._suggested, FaceName.SHOWN))

    @property
    def chosen_face(self) -> FaceName:
        """The face whose patch is drawn next."""
        return FaceName(self.face.currentData())

    def _suggest(self) -> None:
        self._suggested = suggested_patch(self.marks)
        if self.draft is not None and self._suggested and not self.marks.patches:
            self._measure(self.draft, PatchMark(self._suggested, FaceName.SHOWN))
        self._show_reading()

    def _drawn(self) -> None:
        rings, old = self.tool.rings, self.marks.patches
        if len(rings) > len(old):
            self._put(PatchMark(rings[-1], self.chosen_face))
        elif len(rings) == len(old):
            moved = (PatchMark(r, p.face) for r, p in zip(rings, old, strict=True))
            self.marked.emit(replace(self.marks, patches=tuple(moved)))
        else:
            kept = tuple(p for p in old if p.ring in rings)
            self.marked.emit(replace(self.marks, patches=kept))

    def _put(self, patch: PatchMark) -> None:
        others = tuple(p for p in self.marks.patches if p.face is not patch.face)
        marks = replace(self.marks, patches=(*others, patch), without_colour=False)
        self.marked.emit(marks)

    def _without_chosen(self, without: bool) -> None:
        patches = () if without else self.marks.patches
        self.marked.emit(replace(self.marks, without_colour=without, patches=patches))

    def _measure(self, draft: Draft, patch: PatchMark) -> None:
        if patch in draft.readings or patch in draft.refusals or patch in self._measuring:
            return
        self._measuring.add(patch)

        def done(reading: ColourReading) -> None:
            self._measuring.discard(patch)
            draft.readings[patch] = reading
            self._measured()

        def failed(error: Exception) -> None:
            self._measuring.discard(patch)
            draft.refusals[patch] = str(error)
            if not isinstance(error, BinderyError):
                self.session.tell(error)
            self._measured()

        self.session.jobs.run(
            lambda _job: measure(draft.path, patch.ring), owner=self, done=done, failed=failed
        )

    def _measured(self) -> None:
        self.typed.emit(self.marks)

    def _show_reading(self) -> None:
        draft = self.draft
        patch = next((p for p in self.marks.patches if p.face is self.chosen_face), None)
        suggested = patch is None and not self.marks.patches and bool(self._suggested)
        self.tool.suggested = self._suggested if suggested else ()
        if suggested:
            patch = PatchMark(self._suggested, FaceName.SHOWN)
        self.suggestion_button.setVisible(suggested)
        reading = draft.readings.get(patch) if draft and patch else None
        self.swatch.show_colours(*((reading.lab,) if reading else ()))
        if reading is not None:
            before = "Suggested: " if suggested else ""
            self.reading.setText(before + reading_words(reading))
            self.trust.setText("\n".join((trust_words(reading), *reading.warnings)))
            return
        self.trust.setText(draft.refusals.get(patch, "") if draft and patch else "")
        waiting = bool(patch) and patch in self._measuring
        self.reading.setText("Measuring…" if waiting else "No reading of this face yet")
