"""Book and scrap in one photograph: both marked, compared, and the match confirmed."""

from pathlib import Path

from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QRadioButton,
    QWidget,
)

from bindery_stock.bench.colour_room.side_by_side import Pair, compare, confirmations_of
from bindery_stock.bench.colour_room.sitting import LIGHTS
from bindery_stock.bench.match.confirm import confirm
from bindery_stock.bench.photo_table.marks import Grey, Patches
from bindery_stock.colour import Comparison
from bindery_stock.desktop.colours.archive_picker import ArchivePicker
from bindery_stock.desktop.colours.comparison_view import ComparisonView
from bindery_stock.desktop.colours.held_list import HeldList
from bindery_stock.desktop.colours.photo_dialog import PhotoDialog
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.drops import PHOTO_FILTERS, TakesPhotos
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.photo_canvas.ring_tool import RingTool
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import BinderyError

_FIRST = (
    "Lay the scrap on the book, in the light to be tried, and photograph both at once. "
    "Drop that photograph here, or choose it."
)
_BOOK = "Drag rectangles over the book's cloth: sound, clear of gold, glare and shadow."
_SCRAP = "Drag rectangles over the scrap, as near to those of the book as may be."


class SideBySide(TakesPhotos, PhotoDialog):
    """Holds one piece against a book. What it finds is kept when it is recorded."""

    def __init__(self, session: Session, code: str, purpose: str, parent: QWidget) -> None:
        """Ask for a photograph of both."""
        self.book_tool = RingTool(_BOOK, single=False)
        self.scrap_tool = RingTool(_SCRAP, single=False)
        super().__init__(session, (self.book_tool, self.scrap_tool), parent, lending=False)
        self._code = code
        self._pair: Pair | None = None
        self._comparison: Comparison | None = None
        self._picker: ArchivePicker | None = None
        self.setWindowTitle(f"{code} beside the book")
        self.setAcceptDrops(True)
        self.mark_book = QRadioButton("The &book")
        self.mark_scrap = QRadioButton("The sc&rap")
        self.mark_book.setChecked(True)
        group = QButtonGroup(self)
        group.addButton(self.mark_book)
        group.addButton(self.mark_scrap)
        self.light = QComboBox()
        self.light.setEditable(True)
        self.light.addItems(LIGHTS)
        # A light nobody chose would be a guess, and metamerism hangs on it.
        self.light.setCurrentIndex(-1)
        line = self.light.lineEdit()
        if line is not None:
            line.setPlaceholderText("overcast window, reading lamp …")
        self.light.setAccessibleName("Light")
        self.purpose = QLineEdit(purpose)
        self.purpose.setPlaceholderText("spine strip, vol. 4")
        self.view = ComparisonView()
        self.held = HeldList()
        self.record_button = next_button("Record it")
        self.record_button.setEnabled(False)
        self._lay_out()
        self._listen()
        self.resize(GRID * 290, GRID * 180)
        self.held.show_held(confirmations_of(session.stockroom, code))

    def _lay_out(self) -> None:
        first = next_button("Choose the photograph…")
        first.clicked.connect(self.ask_for_photo)
        archived = QPushButton("From the archive…")
        archived.clicked.connect(self.ask_for_archived)
        self.empty = EmptyState("Book and scrap in one photograph", _FIRST, [first, archived])
        self.body = EitherOr(self.empty, self.desk.canvas)
        self.choose_button = QPushButton("Another photograph…")
        self.archive_button = QPushButton("From the archive…")
        photo = QHBoxLayout()
        photo.setContentsMargins(0, 0, 0, 0)
        photo.setSpacing(GRID * 2)
        photo.addWidget(self.choose_button)
        photo.addWidget(self.archive_button)
        photo.addStretch(1)
        self.another = QWidget()
        self.another.setLayout(photo)
        self.another.hide()  # until there is a first one
        marking = QHBoxLayout()
        marking.addWidget(QLabel("Mark"))
        marking.addWidget(self.mark_book)
        marking.addWidget(self.mark_scrap)
        marking.addStretch(1)
        form = self.desk.references.form
        form.addRow("&Light", self.light)
        form.addRow("&For", self.purpose)
        heading = plain_label(f"{self._code} beside the book", TypeSize.HEAD)
        panel = (heading, self.another, marking, self.hint, self.desk.references, self.view, None)
        self.lay_out(self.body, (*panel, self.held), self.record_button)

    def _listen(self) -> None:
        self.choose_button.clicked.connect(self.ask_for_photo)
        self.archive_button.clicked.connect(self.ask_for_archived)
        self.mark_book.toggled.connect(self._take_tool)
        self.desk.loaded.connect(self._begin)
        self.desk.refused.connect(self._refused)
        self.desk.canvas.passed_on.connect(self.record)
        self.book_tool.marked.connect(self._book_marked)
        self.scrap_tool.marked.connect(self.refresh)
        self.light.editTextChanged.connect(lambda _text: self._see_what_is_missing())
        self.purpose.textChanged.connect(lambda _text: self._see_what_is_missing())
        self.record_button.clicked.connect(self.record)

    # The photograph

    def ask_for_photo(self) -> None:
        """Choose a file."""
        dialog = QFileDialog(self, "A photograph of book and scrap")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters(PHOTO_FILTERS)
        dialog.fileSelected.connect(lambda path: self.desk.load(Path(path)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def ask_for_archived(self) -> None:
        """Choose one from the archive."""
        picker = ArchivePicker(self._session, self)
        picker.picked.connect(self.desk.load)
        picker.finished.connect(picker.deleteLater)
        self._picker = picker
        picker.open()

    def _begin(self) -> None:
        self.body.show_only(self.desk.canvas)
        self.another.show()
        self.desk.canvas.setFocus()
        self.mark_book.setChecked(True)
        self._take_tool()
        self.refresh()

    def _refused(self, error: Exception) -> None:
        self.say_trouble(str(error))
        if not isinstance(error, BinderyError):
            self._session.tell(error)

    def _take_tool(self) -> None:
        self.desk.put_in_hand(self.book_tool if self.mark_book.isChecked() else self.scrap_tool)
        self.show_hint()

    def _book_marked(self) -> None:
        """The scrap comes next, until it has a mark too."""
        if self.book_tool.rings and not self.scrap_tool.rings:
            self.mark_scrap.setChecked(True)
        self.refresh()

    # The comparison

    def say_trouble(self, words: str) -> None:
        """Say why the two cannot be compared."""
        self.view.say(f"△ {words}")

    def refresh(self) -> None:
        """Compare what is marked."""
        self._comparison = None
        for tool, word in ((self.book_tool, "book"), (self.scrap_tool, "scrap")):
            tool.show_rings(tool.rings, (word,) * len(tool.rings))
        self.show_hint()
        self._see_what_is_missing()
        self.stop_reading()
        path, book, scrap = self.desk.path, self.book_tool.rings, self.scrap_tool.rings
        if path is None or not book or not scrap:
            self.view.say("")
            return
        pair = Pair(path, self.desk.name, self.desk.size, book, scrap)
        sheet = self.desk.references.sheet

        def work(reference: Grey | Patches | None) -> Comparison:
            return compare(pair, reference=reference, sheet=sheet)

        self.view.say("Comparing the two…")
        self.reading_with(work, lambda found: self._compared(pair, found), self._refused)

    def _compared(self, pair: Pair, comparison: Comparison) -> None:
        self._pair, self._comparison = pair, comparison
        self.view.show_comparison(comparison)
        self._see_what_is_missing()

    def _see_what_is_missing(self) -> None:
        missing = ""
        if self._comparison is None:
            missing = "Mark the book and the scrap first."
        elif not self.light.currentText().strip():
            missing = "Say under which light it was taken."
        elif not self.purpose.text().strip():
            missing = "Say what the scrap is for."
        elif self._session.stockroom.read_only:
            missing = "The stockroom is open for reading only."
        self.record_button.setEnabled(not missing)
        self.record_button.setToolTip(plain_tip(missing))

    def record(self) -> None:
        """Keep what was found, with the photograph and the light."""
        pair, comparison = self._pair, self._comparison
        if pair is None or comparison is None or not self.record_button.isEnabled():
            return
        self.record_button.setEnabled(False)
        code, purpose, light = self._code, self.purpose.text(), self.light.currentText()
        self._session.do(
            lambda room: confirm(
                room,
                piece=code,
                pair=pair,
                comparison=comparison,
                purpose=purpose,
                light=light,
            ),
            done=lambda _changes: self.accept(),
            failed=self._not_recorded,
        )

    def _not_recorded(self, error: Exception) -> None:
        """Say why; what was marked and typed stays, and can be recorded again."""
        self._refused(error)
        self._see_what_is_missing()

    def photos_dropped(self, paths: list[Path]) -> None:
        """Show the photograph dropped here."""
        self.desk.load(paths[0])
