"""The parts of a volume as a list, and the chosen one opened: its sum, its cloth, what to do."""

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.books.gate_beforehand import leave_words
from bindery_stock.bench.books.split_supply import split
from bindery_stock.bench.match.candidates import ruling_line
from bindery_stock.bench.match.shade_words import shade_words
from bindery_stock.desktop.books.bench_books import BenchBooks
from bindery_stock.desktop.books.cloth import paint_state, state_words
from bindery_stock.desktop.column import plain_label, scrolled
from bindery_stock.desktop.look import GRID, TypeSize
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.screen import EitherOr, EmptyState, next_button
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import BookPart, PartState

PART_ROLE = Qt.ItemDataRole.UserRole
_THUMB = QSize(GRID * 9, GRID * 9)
_OPEN = (PartState.WANTED, PartState.NOTHING_SERVES)


class PartPanel(QWidget):
    """Lists the parts. Emits ``chosen(object)`` with a ``BookPart`` or None, and what the buttons
    ask for: ``match_wanted(int)``, ``cut_wanted(int)``, ``fitted_wanted(int)``,
    ``release_wanted(int)``, ``out_wanted(int)``, ``in_wanted(int)``, ``split_wanted(int)``,
    ``card_wanted(int)``, each with the part's id.
    """

    chosen = Signal(object)
    match_wanted = Signal(int)
    cut_wanted = Signal(int)
    fitted_wanted = Signal(int)
    release_wanted = Signal(int)
    out_wanted = Signal(int)
    in_wanted = Signal(int)
    split_wanted = Signal(int)
    card_wanted = Signal(int)

    def __init__(self, books: BenchBooks, previews: Previews) -> None:
        """Begin with no parts."""
        super().__init__()
        self._books, self._previews = books, previews
        self._parts: list[BookPart] = []
        self.list = QListWidget()
        self.list.setAccessibleName("Parts of this volume")
        self.list.setProperty("role", "parts")
        self.list.setIconSize(_THUMB)
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setUniformItemSizes(True)
        self.list.currentRowChanged.connect(self._row_changed)
        self.empty = EmptyState(
            "Nothing to cut", "Tick what is wrong in the survey: the parts follow from that.", []
        )
        self.body = EitherOr(self.list, self.empty)
        self.name = plain_label(size=TypeSize.HEAD)
        self.state = plain_label()
        self.ruling = plain_label()
        self.ruling.setAccessibleName("What the rules say")
        self.sums = plain_label()
        self.sums.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.lines = plain_label(size=TypeSize.SMALL)
        self.lines.setProperty("role", "muted")
        self.match_button = next_button("Find cloth")
        self.cut_button = next_button("Cut…")
        self.fit_button = next_button("In the book")
        self.release_button = QPushButton("Release its cloth")
        self.split_button = QPushButton("Bands on plain cotton…")
        self.out_button = QPushButton("Leave out")
        self.in_button = QPushButton("Want it again")
        self.card_button = QPushButton("Looking-for card…")
        self._lay_out()
        self._listen()
        self._show(None)
        previews.ready.connect(self._picture_ready)

    def _lay_out(self) -> None:
        inner = QWidget()
        told = QVBoxLayout(inner)
        told.setContentsMargins(0, 0, GRID * 2, 0)
        told.setSpacing(GRID * 2)
        for label in (self.name, self.state, self.ruling, self.sums, self.lines):
            told.addWidget(label)
        told.addStretch(1)
        self.buttons = QGridLayout()
        self.buttons.setSpacing(GRID * 2)
        for place, button in enumerate(self._buttons()):
            self.buttons.addWidget(button, place // 2, place % 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID * 3)
        column.addWidget(self.body, 5)
        column.addWidget(scrolled(inner), 4)
        column.addLayout(self.buttons)

    def _buttons(self) -> tuple[QPushButton, ...]:
        return (
            self.match_button,
            self.cut_button,
            self.fit_button,
            self.release_button,
            self.split_button,
            self.out_button,
            self.in_button,
            self.card_button,
        )

    def _listen(self) -> None:
        for button, signal in (
            (self.match_button, self.match_wanted),
            (self.cut_button, self.cut_wanted),
            (self.fit_button, self.fitted_wanted),
            (self.release_button, self.release_wanted),
            (self.split_button, self.split_wanted),
            (self.out_button, self.out_wanted),
            (self.in_button, self.in_wanted),
            (self.card_button, self.card_wanted),
        ):
            button.clicked.connect(lambda _checked=False, s=signal: self._ask(s))

    def _ask(self, signal: Signal) -> None:
        part = self.part()
        if part is not None:
            signal.emit(part.id)  # type: ignore[attr-defined]

    def _picture_ready(self, _code: str) -> None:
        for row, part in enumerate(self._parts):
            self.list.item(row).setIcon(self._thumb(part))

    def show_parts(self, parts: list[BookPart]) -> None:
        """List these parts, keeping the chosen one."""
        kept = self.part()
        self._parts = parts
        self.body.show_only(self.list if parts else self.empty)
        self.list.blockSignals(True)
        self.list.clear()
        lengths = self._books.session.settings.lengths
        for part in parts:
            size = lengths.pair(part.width, part.height)
            against = leave_words(self._books.said(part))
            named = f"{part.words}: {against}" if against else part.words
            item = QListWidgetItem(f"{named}\n{size}, {state_words(part)}")
            item.setIcon(self._thumb(part))
            item.setData(PART_ROLE, part.id)
            item.setSizeHint(QSize(0, GRID * 12))
            item.setToolTip(
                plain_tip(
                    f"{lengths.other(part.width)} × {lengths.other(part.height)}"
                    + ("\nAn estimate until the linings are on." if part.estimated else "")
                )
            )
            self.list.addItem(item)
        self.list.blockSignals(False)
        ids = [part.id for part in parts]
        first = next((row for row, part in enumerate(parts) if part.shown), 0)
        row = ids.index(kept.id) if kept is not None and kept.id in ids else first
        self.list.setCurrentRow(row if parts else -1)
        self._row_changed(self.list.currentRow())

    def part(self) -> BookPart | None:
        """The part in hand."""
        row = self.list.currentRow()
        return self._parts[row] if 0 <= row < len(self._parts) else None

    def choose(self, key: object) -> None:
        """Take a part in hand by its key."""
        for row, part in enumerate(self._parts):
            if part.key == key:
                self.list.setCurrentRow(row)

    def _row_changed(self, _row: int) -> None:
        part = self.part()
        self._show(part)
        self.chosen.emit(part)

    def _thumb(self, part: BookPart) -> QIcon:
        ratio = self.devicePixelRatioF()
        picture = QPixmap(_THUMB * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        area = QRectF(0.5, 0.5, _THUMB.width() - 1.5, _THUMB.height() - 1.5)
        paint_state(painter, area, part, self._books.piece(part.piece), self._previews)
        painter.end()
        icon = QIcon(picture)
        icon.addPixmap(picture, QIcon.Mode.Selected)  # cloth keeps its colour where it is chosen
        return icon

    def _show(self, part: BookPart | None) -> None:
        for label in (self.name, self.state, self.sums, self.lines):
            label.setVisible(part is not None)
        self.ruling.setVisible(False)
        self._show_buttons(part)
        if part is None:
            return
        self.ruling.setText(ruling_line(self._books.said(part)))
        self.ruling.setVisible(bool(self.ruling.text()))
        lengths = self._books.session.settings.lengths
        self.name.setText(f"{part.words.capitalize()}, {lengths.pair(part.width, part.height)}")
        self.state.setText(_told(part))
        self.sums.setText(f"{part.width_sum}\n{part.height_sum}")
        told = [*part.sum_lines, *part.note.splitlines()]
        if part.material:
            told.insert(0, f"Of {part.material}.")
        if part.adhesives:
            known = self._books.session.rules.adhesives
            kinds = ", ".join(known[k].name if k in known else k for k in part.adhesives)
            told.append(f"Laid with {kinds}; each judged by its own verdict.")
        self.lines.setText("\n".join(told))

    def _show_buttons(self, part: BookPart | None) -> None:
        state = part.state if part is not None else None
        writable = not (self._books.session.is_open and self._books.session.stockroom.read_only)
        waits = state in _OPEN
        wanted = {
            self.match_button: waits,
            self.cut_button: state is PartState.RESERVED,
            self.fit_button: state is PartState.CUT,
            self.release_button: state is PartState.RESERVED,
            self.split_button: waits and part is not None and split(part) is not None,
            self.out_button: waits,
            self.in_button: state is PartState.LEFT_OUT,
            self.card_button: waits,
        }
        shown = [button for button in self._buttons() if wanted[button]]
        for button in self._buttons():
            self.buttons.removeWidget(button)
            button.setVisible(wanted[button])
            button.setEnabled(writable or button is self.card_button)
        for place, button in enumerate(shown):
            self.buttons.addWidget(button, place // 2, place % 2)


def _told(part: BookPart) -> str:
    words = state_words(part)
    lines = [words[0].upper() + words[1:]]
    if part.shade is not None and part.read_by.is_measured:
        lines[0] += f", {shade_words(part.shade)}, from the colour sought"
    if part.estimated:
        lines.append("An estimate: measure the back again once its linings are on.")
    made = split(part) if part.state in _OPEN else None
    if made is not None:
        lines.append(made.words)
    return "\n".join(lines)
