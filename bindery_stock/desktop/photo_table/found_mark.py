"""The target or card found in the photograph on the table: looked for, shown, answered."""

from dataclasses import replace

from PySide6.QtCore import QObject, Qt, Signal

from bindery_stock.bench.colour_room.found_reference import FoundReference
from bindery_stock.bench.photo_table.marks import Grey, Marks, Patches
from bindery_stock.colour import Reference
from bindery_stock.desktop.colours.found_strip import FoundStrip
from bindery_stock.desktop.colours.reference_search import ReferenceSearch
from bindery_stock.desktop.colours.references import References
from bindery_stock.desktop.photo_table.draft import ScrapDraft
from bindery_stock.desktop.session import Session


class FoundMark(QObject):
    """What the hand has marked or chosen is never touched by what is found later.

    Emits ``answered(Marks)`` with the marks that an answer leads to, then, as when something was
    found, ``came()``.
    """

    came = Signal()
    answered = Signal(object)

    def __init__(self, session: Session, references: References) -> None:
        """Serve the step that holds these references."""
        super().__init__(references)
        self.search = ReferenceSearch(session, card=True, parent=self)
        self.strip = FoundStrip()
        self._references = references
        self._draft: ScrapDraft | None = None
        self._values: Reference = references.editions.reference
        self.search.found.connect(self._arrived)
        self.strip.kept.connect(self.keep)
        self.strip.left_out.connect(self.leave_out)
        references.kind.activated.connect(lambda _index: self._kind_chosen())

    def show_draft(self, draft: ScrapDraft) -> None:
        """Look in this photograph, unless that was done or the hand has marked something."""
        if self._draft is not draft:
            self.leave()
        self._draft = draft
        marked = draft.marks.reference
        if isinstance(marked, Patches):
            self.search.lay_at(marked.corners)
        begun = draft.looked_for_reference or draft.reference_settled or self.search.is_under_way
        if draft.is_ready and marked is None and not begun:
            self._values = self._references.editions.reference
            self.search.look(draft.path, self._values)
        self._references.show_found(self.open)

    def leave(self) -> None:
        """The photograph was taken off the table: look no further."""
        self.search.stop()
        self._draft = None

    @property
    def open(self) -> FoundReference | None:
        """What was found and is neither kept nor left out yet."""
        draft = self._draft
        if draft is None or draft.found_reference is None or draft.reference_settled:
            return None
        found, marked = draft.found_reference, draft.marks.reference
        if found.stands:
            standing = isinstance(marked, Patches) and marked.corners == found.corners
            return found if standing else None
        return found if marked is None and self._suits(draft, found) else None

    def keep(self) -> bool:
        """Take what was found; whether that changed the marks."""
        draft, found = self._draft, self.open
        if draft is None or found is None:
            return False
        draft.reference_settled = True
        marks = draft.marks
        if found.card:
            marks = replace(marks, reference=Grey(found.card, self._references.lightness.value()))
        elif not found.stands:
            marks = replace(marks, reference=Patches(found.corners, self._values))
        self._answer(marks)
        return not found.stands

    def leave_out(self) -> bool:
        """Leave out what was found; whether there was anything."""
        draft, found = self._draft, self.open
        if draft is None or found is None:
            return False
        draft.reference_settled = True
        if found.stands:
            self._references.choose_usual()
        self._answer(replace(draft.marks, reference=None))
        return True

    def _answer(self, marks: Marks) -> None:
        self.answered.emit(marks)
        self.came.emit()

    def answer(self, key: Qt.Key) -> bool:
        """Enter keeps a target, K a card; Esc leaves either out. Whether that was all the key did.

        Enter on a target that stands keeps it and goes on with the step.
        """
        found = self.open
        if found is None:
            return False
        if key == Qt.Key.Key_Escape:
            return self.leave_out()
        return key == (Qt.Key.Key_K if found.card else Qt.Key.Key_Return) and self.keep()

    def told(self, words: str) -> str:
        """What the step says, with what was found beside it."""
        found = self.open
        return words if found is None else found.told(words)

    def marked_by_hand(self, marks: Marks) -> None:
        """The hand has drawn or mended a reference: nothing is left to be asked."""
        draft = self._draft
        if draft is not None and marks.reference not in (None, draft.marks.reference):
            draft.reference_settled = True

    def _kind_chosen(self) -> None:
        if self._draft is not None:
            self._draft.kind_by_hand = True
            self.came.emit()

    def _suits(self, draft: ScrapDraft, found: FoundReference) -> bool:
        return not draft.kind_by_hand or self._references.suits(found)

    def _arrived(self, found: FoundReference | None) -> None:
        draft = self._draft
        if draft is None:
            return
        draft.looked_for_reference = True
        by_hand = draft.marks.reference is not None or self._references.is_being_drawn
        if found is None or by_hand or draft.reference_settled or not self._suits(draft, found):
            return
        draft.found_reference = found
        if found.stands:
            draft.stand(Patches(found.corners, self._values))
        self.came.emit()
