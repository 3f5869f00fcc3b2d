"""Colour: clean patches on each face that is seen, measured in the background."""

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QComboBox, QPushButton

from bindery_stock.bench.photo_table.found import Found, Sureness, colour_found
from bindery_stock.bench.photo_table.marks import (
    Marks,
    PatchMark,
    StepName,
    TypedColour,
    suggested_patches,
)
from bindery_stock.bench.photo_table.readings import Sample, read, samples
from bindery_stock.bench.photo_table.shelve import COLOURED, is_family_asked
from bindery_stock.colour import ColourReading
from bindery_stock.desktop.colours.instrument_entry import InstrumentEntry
from bindery_stock.desktop.colours.reading_view import ReadingView
from bindery_stock.desktop.colours.references import References
from bindery_stock.desktop.photo_canvas.either_tool import EitherTool
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.photo_canvas.tool import Tool
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.photo_table.family_box import FamilyBox
from bindery_stock.desktop.photo_table.found_mark import FoundMark
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.session import Session
from bindery_stock.errors import BinderyError, EntryError, ReferenceRefused
from bindery_stock.stock import FaceName, Lab

_HINT = (
    "Drag rectangles over clean, even cloth, three of them apart from each other; or press Enter "
    "to take those suggested."
)
_FACES = {
    FaceName.SHOWN: "Shown",
    FaceName.SHELTERED: "Sheltered, under a turn-in",
    FaceName.REVERSE: "Reverse",
}


class ColourStep(TableStep):
    """Marks patches and the reference, and shows what was read."""

    name = StepName.COLOUR

    def __init__(self, session: Session) -> None:
        """Begin with the shown face."""
        super().__init__(session, _HINT)
        self.cloth_tool = RingTool(_HINT, single=False)
        self.references = References(session)
        self.face = QComboBox()
        for face, words in _FACES.items():
            self.face.addItem(words, face)
        self.references.form.addRow("&Face", self.face)
        self.instrument = InstrumentEntry()
        self.references.form.addRow("&Instrument", self.instrument)
        self.view = ReadingView()
        self.both_tool = EitherTool(self.cloth_tool, *self.references.tools)
        self.suggestion_button = QPushButton("&Take the suggested patches")
        self.without = QCheckBox("Shelve &without a colour")
        self.column.addWidget(self.references)
        self.by_eye = FamilyBox(session)
        self.family = self.by_eye.box
        self.found_mark = FoundMark(session, self.references)
        self.strip = self.found_mark.strip
        for widget in (self.view, self.suggestion_button, self.without, self.by_eye):
            self.column.addWidget(widget)
        self._suggested: tuple[PatchMark, ...] = ()
        self._measuring: set[Sample] = set()
        self.cloth_tool.marked.connect(self._drawn)
        self.references.changed.connect(self._reference_changed)
        self.instrument.changed.connect(self._instrument_typed)
        self.view.meant.connect(self._colour_meant)
        self.face.activated.connect(lambda _index: self._face_chosen())
        self.suggestion_button.clicked.connect(self.take_suggestion)
        self.without.toggled.connect(self._without_chosen)
        self.by_eye.chosen.connect(self._family_chosen)
        self.found_mark.came.connect(self._reference_came)
        self.found_mark.answered.connect(self.marked)

    @property
    def tool(self) -> Tool:  # type: ignore[override]
        """The reference's tool until it is marked, then that of the cloth and all points."""
        return self.references.tool if self.references.is_wanted else self.both_tool

    @property
    def tools(self) -> tuple[Tool, ...]:
        """Those of the references and that of the cloth."""
        return (*self.references.tools, self.cloth_tool)

    def show_draft(self, draft: ScrapDraft) -> None:
        """Show the patches, the suggestion, and what was read."""
        fresh = self.draft is not draft
        super().show_draft(draft)
        patches = draft.marks.patches
        self.cloth_tool.show_rings(
            tuple(p.ring for p in patches),
            tuple(f"{p.face} {number}" for number, p in enumerate(patches, start=1)),
        )
        self.references.show_marks(draft.marks, fresh=fresh)
        self.found_mark.show_draft(draft)
        self.without.blockSignals(True)
        self.without.setChecked(draft.marks.without_colour)
        self.without.blockSignals(False)
        self.by_eye.show_family((draft.facts or self.facts).colour_family)
        self.by_eye.setVisible(is_family_asked(draft.marks, draft.facts or self.facts))
        if fresh:
            self.instrument.clear()
        if fresh or patches:
            self._suggested = ()
        for sample in samples(draft.marks):
            self._measure(draft, sample)
        self._show_reading()

    def finding(self, draft: ScrapDraft) -> Found:
        """The colours read."""
        refused = [str(draft.refusals[s]) for s in samples(draft.marks) if s in draft.refusals]
        found = colour_found(draft.marks, draft.facts or self.facts, draft.readings, refused)
        return replace(found, words=self.found_mark.told(found.words))

    def show_strip(self, *, current: bool) -> None:
        """What was found in the photograph, until it is answered."""
        self.found_mark.strip.show_found(self.found_mark.open if current else None)

    def answer(self, key: Qt.Key) -> bool:
        """Enter keeps a target that was found, K a card; Esc leaves either out."""
        return not self.cloth_tool.is_open and self.found_mark.answer(key)

    def leave(self) -> None:
        """Look no further in a photograph that is gone."""
        self.found_mark.leave()

    def begin(self) -> bool:
        """Read the suggested patches at once, so that they can be judged before they are taken."""
        self._suggest()
        return False

    def accept(self) -> None:
        """Take the suggested patches where none is marked; pass on only with a sound reading."""
        marks = self.marks
        wrong = self.instrument.line.check()
        if wrong is not None:
            raise EntryError(StepName.COLOUR, f"Colour: {wrong}")
        unread = not marks.patches and not marks.typed and not marks.without_colour
        if unread and self.facts.kind in COLOURED:
            self._suggest()
            if not self._suggested:
                raise EntryError(StepName.COLOUR, "Colour: draw the outline first, or a patch.")
            self.take_suggestion()
        if is_family_asked(marks, self.facts) and not self.facts.colour_family:
            self.family.setFocus()
            raise EntryError(StepName.COLOUR, "Colour: say by eye which colour family it is.")
        if self.draft is not None:
            found = self.finding(self.draft)
            if found.standing is Sureness.WRONG:
                raise EntryError(StepName.COLOUR, f"Colour: {found.words}")

    def jobs_stopped(self) -> None:
        """Measure again what was being measured."""
        self._measuring.clear()
        self.found_mark.search.stop()

    def take_suggestion(self) -> None:
        """Mark the suggested patches for the shown face."""
        self._suggest()
        if self._suggested:
            self.marked.emit(self._with_suggestion())

    @property
    def chosen_face(self) -> FaceName:
        """The face whose patches are drawn next."""
        return FaceName(self.face.currentData())

    def _suggest(self) -> None:
        marks = self.marks
        if self.draft is None or marks.patches or marks.typed or marks.without_colour:
            self._suggested = ()
        else:
            rings = suggested_patches(marks, self.draft.odd_places())
            self._suggested = tuple(PatchMark(ring, FaceName.SHOWN) for ring in rings)
            for sample in samples(self._with_suggestion()):
                self._measure(self.draft, sample)
        self._show_reading()

    def _with_suggestion(self) -> Marks:
        return replace(self.marks, patches=self._suggested, without_colour=False)

    def _drawn(self) -> None:
        rings, old = self.cloth_tool.rings, self.marks.patches
        if len(rings) == len(old):  # one was moved: they are still in order
            patches = [PatchMark(ring, p.face) for ring, p in zip(rings, old, strict=True)]
        else:
            faces = {patch.ring: patch.face for patch in old}
            patches = [PatchMark(ring, faces.get(ring, self.chosen_face)) for ring in rings]
        without = self.marks.without_colour and not patches
        self.marked.emit(replace(self.marks, patches=tuple(patches), without_colour=without))

    def _reference_changed(self) -> None:
        try:
            marks = self.references.on(self.marks)
        except EntryError:  # the entry itself is marked and says what is wrong
            return
        if marks != self.marks:
            self.found_mark.marked_by_hand(marks)
            self.marked.emit(marks)
            self._suggest()
        self.tool_changed.emit()

    def _reference_came(self) -> None:
        """What is found belongs to the photograph: no mark of the hand, so it has no Undo."""
        self.typed.emit(self.marks)
        self._suggest()
        self.tool_changed.emit()

    def _face_chosen(self) -> None:
        self.instrument.clear()
        self._show_reading()

    def _instrument_typed(self) -> None:
        face, reading = self.chosen_face, self.instrument.reading
        others = tuple(one for one in self.marks.typed if one.face is not face)
        if reading is not None:
            others += (TypedColour(reading.lab, reading.u, reading.method, face),)
        if others != self.marks.typed:
            self.typed.emit(replace(self.marks, typed=others, without_colour=False))
            self._suggest()

    def _colour_meant(self, lab: Lab) -> None:
        """Read only that colour of the patches of the face in hand."""
        if self._suggested and not self.marks.patches:
            self.take_suggestion()
        patches = tuple(
            replace(patch, meant=lab) if patch.face is self.chosen_face else patch
            for patch in self.marks.patches
        )
        self.marked.emit(replace(self.marks, patches=patches))

    def _without_chosen(self, without: bool) -> None:
        patches = () if without else self.marks.patches
        self.marked.emit(replace(self.marks, without_colour=without, patches=patches))
        self._suggest()

    def _family_chosen(self, family: str) -> None:
        if self.draft is not None:
            self.draft.facts = replace(self.facts, colour_family=family)
            self.typed.emit(self.marks)

    def _measure(self, draft: ScrapDraft, sample: Sample) -> None:
        if sample in draft.readings or sample in draft.refusals or sample in self._measuring:
            return
        self._measuring.add(sample)

        def done(reading: ColourReading) -> None:
            self._measuring.discard(sample)
            draft.readings[sample] = reading
            self.typed.emit(self.marks)

        def failed(error: Exception) -> None:
            self._measuring.discard(sample)
            draft.refusals[sample] = error
            if not isinstance(error, BinderyError):
                self.session.tell(error)
            self.typed.emit(self.marks)

        self.session.jobs.run(
            lambda _job: read(draft.path, sample), owner=self, done=done, failed=failed
        )

    def _show_reading(self) -> None:
        suggested = bool(self._suggested) and not self.marks.patches
        self.hint.setText(self.references.hint if self.references.is_wanted else _HINT)
        self.suggestion_button.setVisible(suggested)
        self.cloth_tool.suggested = tuple(p.ring for p in self._suggested) if suggested else ()
        marks = self._with_suggestion() if suggested else self.marks
        face = FaceName.SHOWN if suggested else self.chosen_face
        sample = next((s for s in samples(marks) if s.face is face), None)
        draft = self.draft
        reading = draft.readings.get(sample) if draft and sample else None
        refused = draft.refusals.get(sample) if draft and sample else None
        by_reference = isinstance(refused, ReferenceRefused)
        self.references.show_refusal(str(refused) if by_reference else "")
        if reading is not None:
            self.view.show_reading(reading, "Suggested: " if suggested else "")
            return
        typed = next((one for one in marks.typed if one.face is face), None)
        if typed is not None:
            self.view.show_typed(typed)
            return
        waiting = sample is not None and sample in self._measuring
        why = str(refused) if refused is not None and not by_reference else ""
        words = (
            "No colour is read by this reference" if by_reference else "No reading of this face yet"
        )
        self.view.say("Measuring…" if waiting else words, why)
