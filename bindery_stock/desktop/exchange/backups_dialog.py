"""The copies of the stockroom: choose one, see what would change, go back to it."""

from datetime import datetime
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.clock import local_date
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button
from bindery_stock.errors import BinderyError
from bindery_stock.records.counted import counted
from bindery_stock.stock.keeping.restore import Backup, Contents, Outlook, backups, outlook
from bindery_stock.trade.day_counts import written

_REASONS = {
    "daily": "made of itself",
    "asked": "asked for",
    "before-restore": "what was there before going back",
    "salvaged": "salvaged from a damaged stockroom",
}


class BackupsDialog(QDialog):
    """Lists the copies of a stock folder.

    Emits ``restore_wanted(Path)`` when a copy is to take the stockroom's place, ``copy_wanted()``
    when one is to be made now and ``salvage_wanted()`` when a damaged one is to be saved.
    """

    restore_wanted = Signal(Path)
    copy_wanted = Signal()
    salvage_wanted = Signal()

    def __init__(self, folder: Path, parent: QWidget | None) -> None:
        """Show the copies of the stockroom in this folder, open or not."""
        super().__init__(parent)
        self.setWindowTitle(f"Backups of {folder.name}")
        self.folder = folder
        self.list = QListWidget()
        self.list.setAccessibleName("Backups, newest first")
        self.told = QLabel()
        self.told.setWordWrap(True)
        self.told.setTextFormat(Qt.TextFormat.PlainText)
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.go_back = next_button("Go back to this copy")
        self.make = QPushButton("Make a copy &now")
        self.save = QPushButton("Save what can be read of a &damaged stockroom")
        self._lay_out()
        self.list.currentRowChanged.connect(lambda _row: self._show_chosen())
        self.go_back.clicked.connect(self._restore)
        self.make.clicked.connect(self.copy_wanted)
        self.save.clicked.connect(self.salvage_wanted)
        self.resize(GRID * 220, GRID * 130)
        self.refresh()

    def _lay_out(self) -> None:
        heading = QLabel("What going back would change")
        sized(heading, TypeSize.HEAD)
        note = QLabel(
            "Photographs are not copied again: they stay where they are. What is here now is kept "
            "as a copy of its own, so that going back can be gone back on."
        )
        note.setWordWrap(True)
        note.setProperty("role", "muted")
        close = QPushButton("Close")
        close.clicked.connect(self.reject)
        for button in (self.go_back, self.make, self.save):
            button.setAutoDefault(False)
        # Going back takes a deliberate press: Enter, wherever the focus is, leaves all as it was.
        close.setDefault(True)
        right = QVBoxLayout()
        right.setSpacing(GRID * 3)
        right.addWidget(heading)
        right.addWidget(self.told, 1)
        right.addWidget(note)
        right.addWidget(self.go_back, alignment=Qt.AlignmentFlag.AlignRight)
        upper = QHBoxLayout()
        upper.setSpacing(GRID * 4)
        upper.addWidget(self.list, 1)
        upper.addLayout(right, 1)
        lower = QHBoxLayout()
        lower.addWidget(close)
        lower.addStretch(1)
        lower.addWidget(self.save)
        lower.addWidget(self.make)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        column.setSpacing(GRID * 3)
        column.addLayout(upper, 1)
        column.addLayout(lower)

    def refresh(self) -> None:
        """Read the list again; the newest copy is in hand."""
        self.list.clear()
        try:
            found = backups(self.folder)
        except BinderyError as error:
            self.told.setText(str(error))
            found = []
        for one in found:
            item = QListWidgetItem(backup_words(one))
            item.setData(Qt.ItemDataRole.UserRole, str(one.path))
            self.list.addItem(item)
        self.go_back.setEnabled(bool(found))
        if found:
            self.list.setCurrentRow(0)
        else:
            self.told.setText(
                "There is no copy yet. One is made of itself at the first opening of each day on "
                "which something was changed."
            )

    @property
    def chosen(self) -> Path | None:
        """The copy in hand."""
        item: QListWidgetItem | None = self.list.currentItem()
        # There is none while the list is being read again, though it may have lines.
        return None if item is None else Path(item.data(Qt.ItemDataRole.UserRole))

    def _show_chosen(self) -> None:
        chosen = self.chosen
        if chosen is None:
            return
        try:
            self.told.setText(outlook_words(outlook(self.folder, chosen)))
            self.go_back.setEnabled(True)
        except BinderyError as error:
            self.told.setText(str(error))
            self.go_back.setEnabled(False)

    def _restore(self) -> None:
        if self.chosen is not None:
            self.restore_wanted.emit(self.chosen)


def backup_words(one: Backup) -> str:
    """``25 Nov 2026, 09:04  made of itself, after step 109``."""
    reason = _REASONS.get(one.reason, one.reason.replace("-", " "))
    return f"{_when(one.at)}  {reason}, after step {one.step}"


def _when(at: datetime) -> str:
    return f"{written(local_date(at))}, {at.astimezone():%H:%M}"


def outlook_words(seen: Outlook) -> str:
    """What would change, line by line."""
    if seen.now is None:
        now = "What is here now cannot be read; its files are kept as they are."
        return f"{now}\n\nIn the copy: {_counts(seen.then)}\n{_last(seen.then)}"
    lines = [f"Now: {_counts(seen.now)}", f"Then: {_counts(seen.then)}", _last(seen.then)]
    more = seen.now.steps - seen.then.steps
    if more > 0:
        lines.append(f"\n{counted(more, 'step')} since then would no longer stand:")
        lines += [f"• {name}" for name in seen.lost_steps]
        if more > len(seen.lost_steps):
            lines.append(f"• and {more - len(seen.lost_steps)} before them")
    elif more == 0:
        lines.append("\nNo step was made since.")
    else:
        lines.append(f"\nThe copy has {counted(-more, 'step')} more than what is here now.")
    return "\n".join(lines)


def _counts(held: Contents) -> str:
    return (
        f"{counted(held.on_shelf, 'piece')} on the shelf ({held.pieces} with those gone), "
        f"{counted(held.lots, 'lot')}, {counted(held.volumes, 'volume')}, "
        f"{counted(held.wants, 'want')}, {counted(held.steps, 'step')}."
    )


def _last(held: Contents) -> str:
    if held.last_at is None:
        return "Nothing had been done."
    return f"Last then: {held.last_step} ({_when(held.last_at)})."
