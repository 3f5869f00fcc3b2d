"""Another stockroom to be taken into this one: what is new, and what differs, thing by thing."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.entry_dialog import EntryDialog
from bindery_stock.desktop.look import GRID, TypeSize, sized
from bindery_stock.desktop.screen import next_button
from bindery_stock.records.counted import counted
from bindery_stock.stock.exchange.comparison import Fate, MergeChoice, MergeItem, MergePlan

Choices = dict[tuple[str, str], MergeChoice]
_WORDS = {
    MergeChoice.KEEP: "&Keep what is here",
    MergeChoice.TAKE: "Take &theirs instead",
    MergeChoice.BOTH: "Take theirs as &another beside it",
}


class MergeDialog(EntryDialog):
    """Shows a plan. Emits ``merge_wanted(dict)`` with the choices made where things differ.

    Whoever hears it does it and accepts the dialog; what was refused is said in it, and the choices
    stay.
    """

    merge_wanted = Signal(object)

    def __init__(self, plan: MergePlan, name: str, parent: QWidget | None) -> None:
        """Show what taking in the stockroom of this name would do."""
        super().__init__(parent)
        self.setWindowTitle(f"Take in {name}")
        self._plan = plan
        self._items = plan.of(Fate.DIFFERS)
        self._choices = [MergeChoice.KEEP for _ in self._items]
        self.words = QLabel(plan.words)
        self.words.setTextFormat(Qt.TextFormat.PlainText)
        self.words.setWordWrap(True)
        sized(self.words, TypeSize.HEAD)
        self.differing = QListWidget()
        self.differing.setAccessibleName("What differs")
        self.differing.setWordWrap(True)
        self.differing.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        for item in self._items:
            self.differing.addItem(QListWidgetItem(_told(item, MergeChoice.KEEP)))
        self.buttons = {choice: QRadioButton(words) for choice, words in _WORDS.items()}
        self.why = QLabel()
        self.why.setTextFormat(Qt.TextFormat.PlainText)
        self.why.setWordWrap(True)
        self.why.setProperty("role", "muted")
        renamed = ", ".join(item.code for item in plan.of(Fate.RENAMED))
        self.renamed = QLabel(
            f"Other things have these codes here, so theirs get new ones: {renamed}. Print new "
            "labels for them."
        )
        self.renamed.setTextFormat(Qt.TextFormat.PlainText)
        self.renamed.setWordWrap(True)
        self.renamed.setVisible(bool(renamed))
        self.wrong = plain_label()
        self.wrong.setAccessibleName("What is wrong")
        self.wrong.hide()
        self.take = next_button("Take in")
        self.take.clicked.connect(self._take)
        self.differing.itemSelectionChanged.connect(self._show_choice)
        for button in self.buttons.values():
            button.clicked.connect(self._choose)
        self._lay_out()
        self.resize(GRID * 190, GRID * 150)
        if self._items:
            self.differing.setCurrentRow(0)
        self._refresh()

    def _lay_out(self) -> None:
        heading = QLabel("These differ. Choose one, or several at once, and what becomes of it.")
        heading.setWordWrap(True)
        heading.setProperty("role", "muted")
        some = bool(self._items)
        for shown in (heading, self.differing, self.why, *self.buttons.values()):
            shown.setVisible(some)
        leave = QPushButton("Leave it")
        leave.setAutoDefault(False)
        leave.clicked.connect(self.reject)
        lower = QHBoxLayout()
        lower.addWidget(leave)
        lower.addStretch(1)
        lower.addWidget(self.take)
        choosing = QHBoxLayout()
        choosing.setSpacing(GRID * 4)
        for button in self.buttons.values():
            choosing.addWidget(button)
        choosing.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 4, GRID * 4, GRID * 4, GRID * 4)
        column.setSpacing(GRID * 3)
        column.addWidget(self.words)
        column.addWidget(self.renamed)
        column.addWidget(heading)
        column.addWidget(self.differing, 1)
        column.addLayout(choosing)
        column.addWidget(self.why)
        if not some:
            column.addStretch(1)
        column.addWidget(self.wrong)
        column.addLayout(lower)

    def choices(self) -> Choices:
        """What was chosen where things differ."""
        return {
            (item.table, item.code): choice
            for item, choice in zip(self._items, self._choices, strict=True)
        }

    def _chosen_rows(self) -> list[int]:
        return [index.row() for index in self.differing.selectedIndexes()]

    def _show_choice(self) -> None:
        """What is chosen for the rows in hand, and whether theirs may be taken instead."""
        rows = self._chosen_rows()
        made = {self._choices[row] for row in rows}
        for choice, button in self.buttons.items():
            button.setEnabled(bool(rows))
            button.setAutoExclusive(False)  # else Qt would not let all of them be off
            button.setChecked(made == {choice})
            button.setAutoExclusive(True)
        stay = [self._items[row] for row in rows if self._items[row].ours_stays]
        self.buttons[MergeChoice.TAKE].setEnabled(bool(rows) and len(stay) < len(rows))
        self.why.setText(
            " ".join(f"{one.code} stays as it is: {one.ours_stays}." for one in stay[:3])
        )

    def _choose(self) -> None:
        """Make the choice for every row in hand; what must stay is left."""
        chosen = next(one for one, button in self.buttons.items() if button.isChecked())
        for row in self._chosen_rows():
            if chosen is MergeChoice.TAKE and self._items[row].ours_stays:
                continue
            self._choices[row] = chosen
            self.differing.item(row).setText(_told(self._items[row], chosen))
        self._show_choice()
        self._refresh()

    def _refresh(self) -> None:
        new = len(self._plan.of(Fate.NEW)) + len(self._plan.of(Fate.RENAMED))
        new += sum(choice is not MergeChoice.KEEP for choice in self._choices)
        self.take.setEnabled(new > 0)
        self.take.setText(f"Take in {counted(new, 'thing')}" if new else "Nothing new to take in")

    def _take(self) -> None:
        self.wrong.setVisible(False)
        self.merge_wanted.emit(self.choices())

    def at_stake(self) -> object:
        """What was chosen where things differ; which row is in hand is no choice."""
        return tuple(self._choices)

    def say_wrong(self, words: str, field: str = "") -> None:  # noqa: ARG002 - no entry is at fault
        """Say why it was not taken in."""
        self.wrong.setText(words)
        self.wrong.setVisible(True)


def _told(item: MergeItem, choice: MergeChoice) -> str:
    lines = [f"{item.code}: {choice}", *(f"   {line}" for line in item.differences)]
    if item.warning and choice is MergeChoice.KEEP:
        lines.append(f"   {item.warning}")
    return "\n".join(lines)
