"""What our small forms have in common: entries, a line for what is wrong, buttons."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.adhesives.typed import read_day
from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.dialog_foot import DialogFoot
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.screen import next_button
from bindery_stock.desktop.stock_dialog import StockDialog
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.trade.day_counts import written

_WIDTH = 480
_NAMES = 160
"""Room left for the names of the entries."""


class FormDialog(StockDialog):
    """A form that closes only when what was typed has been taken. The caller opens it."""

    def __init__(self, title: str, button: str, parent: QWidget | None) -> None:
        """``button`` names what will be done."""
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setMinimumWidth(_WIDTH)
        self.form = QFormLayout()
        self.form.setSpacing(GRID * 2)
        self.refuse_in(self.form)
        self.go = next_button(button)
        self.act_on(self.go)
        self.foot = DialogFoot(self, self.go)
        self.column = QVBoxLayout(self)
        self.column.setSpacing(GRID * 3)
        self.column.addLayout(self.form)
        self.column.addStretch(1)
        self.column.addWidget(self.wrong)
        self.column.addWidget(self.foot)

    def showEvent(self, event: QShowEvent) -> None:
        """The entries were made after the buttons, but the Tab key goes to them first."""
        if not event.spontaneous():
            self.column.removeWidget(self.foot)
            self.foot.setParent(None)
            self.column.addWidget(self.foot)
            self.foot.show()
            self.setTabOrder(self.go, self.foot.leave_button)
        super().showEvent(event)

    def line(self, name: str, text: str = "", *, hint: str = "") -> QLineEdit:
        """Add an entry of one line under this name."""
        entry = QLineEdit(text)
        entry.setPlaceholderText(hint)
        self.add(name, entry)
        return entry

    def add(self, name: str, entry: QWidget, *also: str) -> None:
        """Add an entry under this name; ``also`` are names errors know it by."""
        self.name_field(entry, name, *also)
        label = QLabel(name)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setBuddy(entry)
        entry.setAccessibleName(name.replace("&", ""))
        self.form.addRow(label, entry)

    def remark(self, words: str = "", *, whole_width: bool = False) -> QLabel:
        """Add a quiet line under the last entry, or across the form."""
        label = plain_label(words, muted=True)
        label.setMinimumWidth(_WIDTH - _NAMES if not whole_width else _WIDTH - GRID * 6)
        if whole_width:
            self.form.addRow(label)
        else:
            self.form.addRow("", label)
        return label

    def day(self, name: str, day: date | None, today: date) -> "DayLine":
        """Add an entry for a day."""
        entry = DayLine(name.replace("&", ""), day, today)
        self.add(name, entry)
        return entry


class DayLine(QLineEdit):
    """A day, typed; ``today`` and ``yesterday`` are understood."""

    def __init__(self, field: str, day: date | None, today: date) -> None:
        """Begin with a day, or with none."""
        super().__init__("" if day is None else written(day))
        self._field, self._today = field, today
        self.setPlaceholderText("not known")
        self.setToolTip(
            plain_tip(f"As {today.isoformat()} or {written(today)}; “today”, “yesterday”.")
        )

    def value(self) -> date | None:
        """The day, or None. Raises ``EntryError``."""
        return read_day(self.text(), self._today, self._field)


class Chooser(QComboBox):
    """A list to choose from: what is shown, and what it stands for.

    Qt's own item data would hand a word of ours back as a plain text.
    """

    def __init__(self, words: Sequence[tuple[str, Any]], chosen: Any = None) -> None:
        """Offer these, with ``chosen`` chosen where it is among them."""
        super().__init__()
        self._values: list[Any] = []
        self.offer(words, chosen)

    def offer(self, words: Sequence[tuple[str, Any]], chosen: Any = None) -> None:
        """Offer these and no others."""
        self._values = []  # first, since clearing tells that nothing is chosen
        self.clear()
        self._values = [value for _shown, value in words]
        self.addItems([shown for shown, _value in words])
        self.choose(chosen)

    def choose(self, value: Any) -> None:
        """Choose what stands for ``value``, else the first."""
        self.setCurrentIndex(self._values.index(value) if value in self._values else 0)

    def value(self) -> Any:
        """What the chosen words stand for."""
        return self._values[self.currentIndex()] if self.currentIndex() >= 0 else None


def typed_or_chosen(words: Iterable[str], text: str = "") -> QComboBox:
    """An entry with ready-made words; any other may be typed."""
    combo = QComboBox()
    combo.setEditable(True)
    combo.addItems([word for word in words if word])
    combo.setCurrentIndex(-1)  # so that the down key begins at the first
    combo.setCurrentText(text)
    return combo


def open_over(dialog: QDialog, finished: Callable[[], None] | None = None) -> QDialog:
    """Open a dialog over its parent and let go of it when it is done."""
    if finished is not None:
        dialog.finished.connect(lambda _result: finished())
    dialog.finished.connect(dialog.deleteLater)
    dialog.open()
    return dialog
