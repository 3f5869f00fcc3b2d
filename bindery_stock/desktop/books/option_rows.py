"""The courses weighed for a volume, each a block of entries, least first."""

from dataclasses import replace

from PySide6.QtWidgets import QFormLayout, QLineEdit, QVBoxLayout, QWidget

from bindery_stock.desktop.column import entry_name
from bindery_stock.desktop.entries import NumberEntry
from bindery_stock.desktop.forms.form_dialog import Chooser
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import quiet_button
from bindery_stock.errors import EntryError
from bindery_stock.trade.care import CareOption, CarePlan

_ENTRIES = (
    ("what", "Would be done", "Leave it as it is, in a box"),
    ("gain", "Speaks for it", "stable as it stands; nothing is lost"),
    ("risk", "Risk, and loss", "the joint goes on splitting"),
    ("undo", "Undoing", "nothing to undo"),
)
_AT_FIRST = 2


class OptionBlock(QWidget):
    """One course."""

    def __init__(self, number: int) -> None:
        """Begin empty."""
        super().__init__()
        self.entries = {field: QLineEdit() for field, _name, _hint in _ENTRIES}
        self.hours = NumberEntry("Hours", 0, 10_000)
        self._shown: CareOption | None = None
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, GRID * 2)
        form.setVerticalSpacing(GRID)
        head = entry_name(f"Option {number}")
        sized(head, TypeSize.BODY, bold=True)
        form.addRow(head)
        for field, name, hint in _ENTRIES:
            entry = self.entries[field]
            entry.setAccessibleName(f"{name}, option {number}")
            if number == 1:
                entry.setPlaceholderText(hint)
            form.addRow(name, entry)
        self.hours.setAccessibleName(f"Hours, option {number}")
        form.addRow("Hours", self.hours)

    def show_option(self, option: CareOption) -> None:
        """Fill it in."""
        self._shown = option
        for field, entry in self.entries.items():
            entry.setText(getattr(option, field))
        self.hours.setText("" if option.hours is None else f"{option.hours:g}")

    def option(self) -> CareOption | None:
        """The course, or None where nothing was entered. Raises ``EntryError``."""
        told = {field: entry.text().strip() for field, entry in self.entries.items()}
        hours = self.hours.value()
        if hours is None and not any(told.values()):
            return None
        found = CareOption(**told, hours=hours)  # type: ignore[arg-type]
        # As it was drawn up it goes on following the treatments; rewritten it is the binder's.
        drawn = replace(found, from_treatments=True)
        return drawn if drawn == self._shown else found


class OptionRows(QWidget):
    """As many blocks as there are courses, one more at a press, and which is recommended."""

    def __init__(self, care: CarePlan) -> None:
        """Begin with the courses of a plan, and with two blocks at the least."""
        super().__init__()
        self.blocks: list[OptionBlock] = []
        self.recommended = Chooser([("none yet", None)])
        self.recommended.setAccessibleName("Recommended")
        self.more_button = quiet_button("Another option")
        self.more_button.clicked.connect(self._one_more)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID)
        self._column.addWidget(self.more_button)
        self._column.addStretch(1)
        for option in care.options:
            self.add().show_option(option)
        while len(self.blocks) < _AT_FIRST:
            self.add()
        self.recommended.choose(care.recommended)

    def _one_more(self) -> None:
        self.add().entries["what"].setFocus()

    def add(self) -> OptionBlock:
        """One more block, empty."""
        block = OptionBlock(len(self.blocks) + 1)
        self._column.insertWidget(len(self.blocks), block)
        self.blocks.append(block)
        chosen = self.recommended.value()
        words = [(f"option {n + 1}", n) for n in range(len(self.blocks))]
        self.recommended.offer([("none yet", None), *words], chosen)
        return block

    def options(self) -> tuple[tuple[CareOption, ...], int | None]:
        """What was entered, and which of it is recommended. Raises ``EntryError``."""
        read = [block.option() for block in self.blocks]
        chosen = self.recommended.value()
        if chosen is not None and read[chosen] is None:
            raise EntryError(
                "Recommended", f"Recommended: nothing was entered under option {chosen + 1}."
            )
        told = tuple(option for option in read if option is not None)
        if chosen is None:
            return told, None
        return told, sum(option is not None for option in read[:chosen])
