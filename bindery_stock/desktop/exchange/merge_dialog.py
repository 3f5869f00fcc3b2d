"""Another stockroom to be taken into this one: what is new, and what differs, thing by thing."""

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

from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.place import next_button
from bindery_stock.records.counted import counted
from bindery_stock.stock.merging import Choice, Fate, Item, MergePlan

Choices = dict[tuple[str, str], Choice]


class MergeDialog(QDialog):
    """Shows a plan. Emits ``merge_wanted(dict)`` with the choices made where things differ."""

    merge_wanted = Signal(object)

    def __init__(self, plan: MergePlan, name: str, parent: QWidget | None) -> None:
        """Show what taking in the stockroom of this name would do."""
        super().__init__(parent)
        self.setWindowTitle(f"Take in {name}")
        self._plan = plan
        self.words = QLabel(plan.words)
        self.words.setWordWrap(True)
        sized(self.words, TypeSize.HEAD)
        self.differing = QListWidget()
        self.differing.setAccessibleName("What differs")
        self.differing.setWordWrap(True)
        for item in plan.of(Fate.DIFFERS):
            self.differing.addItem(_row(item))
        renamed = ", ".join(item.code for item in plan.of(Fate.RENAMED))
        self.renamed = QLabel(
            f"Other things have these codes here, so theirs get new ones: {renamed}. Print new "
            "labels for them."
        )
        self.renamed.setWordWrap(True)
        self.renamed.setVisible(bool(renamed))
        self.take = next_button("Take in")
        self.take.clicked.connect(self._take)
        self.differing.itemChanged.connect(lambda _item: self._refresh())
        self._lay_out()
        self.resize(GRID * 190, GRID * 130)
        self._refresh()

    def _lay_out(self) -> None:
        heading = QLabel(
            "These differ. What is here is kept; tick one to take theirs in as another thing "
            "beside it."
        )
        heading.setWordWrap(True)
        heading.setProperty("role", "muted")
        some = self.differing.count() > 0
        heading.setVisible(some)
        self.differing.setVisible(some)
        leave = QPushButton("Leave it")
        leave.setAutoDefault(False)
        leave.clicked.connect(self.reject)
        lower = QHBoxLayout()
        lower.addWidget(leave)
        lower.addStretch(1)
        lower.addWidget(self.take)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 3)
        column.addWidget(self.words)
        column.addWidget(self.renamed)
        column.addWidget(heading)
        column.addWidget(self.differing, 1)
        if not some:
            column.addStretch(1)
        column.addLayout(lower)

    def choices(self) -> Choices:
        """What was chosen where things differ."""
        made: Choices = {}
        for row in range(self.differing.count()):
            shown = self.differing.item(row)
            item: Item = shown.data(Qt.ItemDataRole.UserRole)
            both = shown.checkState() is Qt.CheckState.Checked
            made[item.table, item.code] = Choice.BOTH if both else Choice.KEEP
        return made

    def _refresh(self) -> None:
        new = len(self._plan.of(Fate.NEW)) + len(self._plan.of(Fate.RENAMED))
        new += sum(choice is Choice.BOTH for choice in self.choices().values())
        self.take.setEnabled(new > 0)
        self.take.setText(f"Take in {counted(new, 'thing')}" if new else "Nothing new to take in")

    def _take(self) -> None:
        self.merge_wanted.emit(self.choices())
        self.accept()


def _row(item: Item) -> QListWidgetItem:
    told = "\n".join((item.code, *(f"   {line}" for line in item.differences)))
    shown = QListWidgetItem(told)
    shown.setData(Qt.ItemDataRole.UserRole, item)
    shown.setFlags(shown.flags() | Qt.ItemFlag.ItemIsUserCheckable)
    shown.setCheckState(Qt.CheckState.Unchecked)
    return shown
