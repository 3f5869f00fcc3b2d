"""The steps at the right of the photograph, one of them open, and Shelve at their foot."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.bench.photo_table.found import Found, Sureness
from bindery_stock.desktop.column import hair_line, plain_label, scrolled
from bindery_stock.desktop.look import GRID
from bindery_stock.desktop.photo_table.header import StepHeader
from bindery_stock.desktop.photo_table.step import TableStep
from bindery_stock.desktop.screen import weigh

_WIDTH = 372


class StepPanel(QFrame):
    """Emits ``chosen(int)`` when a step is pressed, ``passed_on()`` for its button, ``entered()``
    for Enter, ``shelve_wanted()`` and ``another_wanted()`` for the two ways to shelve.
    """

    chosen = Signal(int)
    passed_on = Signal()
    entered = Signal()
    shelve_wanted = Signal()
    another_wanted = Signal()

    def __init__(self, steps: list[TableStep]) -> None:
        """Stand the steps one under the other."""
        super().__init__()
        self.setProperty("role", "panel")
        self.setFixedWidth(_WIDTH)
        self.steps = steps
        self.headers: list[StepHeader] = []
        self._bodies: list[QWidget] = []
        self._problems: list[QLabel] = []
        self._pass_buttons: list[QPushButton] = []
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, GRID * 2, 0, GRID * 2)
        column.setSpacing(0)
        for place, step in enumerate(steps):
            header = StepHeader(place + 1, step.name.value)
            header.clicked.connect(lambda _checked=False, p=place: self.chosen.emit(p))
            body = self._body_of(step)
            column.addWidget(header)
            column.addWidget(body)
            self.headers.append(header)
            self._bodies.append(body)
        column.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(scrolled(inside), 1)
        whole.addWidget(hair_line())
        whole.addLayout(self._foot())

    def open_step(self, place: int) -> None:
        """Open one step and close the others."""
        for index, (header, body) in enumerate(zip(self.headers, self._bodies, strict=True)):
            header.setChecked(index == place)
            body.setVisible(index == place)

    def show_findings(self, findings: list[Found], shelving: Found) -> None:
        """Show what each step has found, and whether the piece can be shelved."""
        for header, finding in zip(self.headers, findings, strict=True):
            header.show_finding(finding)
        ready = shelving.standing is Sureness.FOUND
        self.missing.setText(shelving.words)
        weigh(self.shelve_button, next_action=ready)
        for button in self._pass_buttons:
            weigh(button, next_action=not ready)

    def show_shelving(self, *, under_way: bool) -> None:
        """Say that the piece is being shelved, and take no second order meanwhile."""
        self.shelve_button.setEnabled(not under_way)
        self.another_button.setEnabled(not under_way)
        self.shelve_button.setText("Shelving…" if under_way else self._shelve_words)

    def show_anew(self, code: str) -> None:
        """Name the piece that the photograph shows again; empty for a new one."""
        self._shelve_words = f"Keep as {code}" if code else "Shelve"
        self.shelve_button.setText(self._shelve_words)

    def show_problem(self, place: int, words: str) -> None:
        """Say in a step why it cannot be passed on; empty takes the words away."""
        label = self._problems[place]
        label.setText(f"△ {words}" if words else "")
        label.setVisible(bool(words))

    def problem(self, place: int) -> str:
        """What a step says is wrong."""
        return self._problems[place].text()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter is heard from whatever entry it was typed in."""
        plain = not event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if plain and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit()
        else:
            super().keyPressEvent(event)

    def _body_of(self, step: TableStep) -> QWidget:
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(GRID * 9, GRID * 2, GRID * 3, GRID * 3)
        column.setSpacing(GRID * 2)
        problem = plain_label(muted=True)
        problem.setProperty("role", "")
        problem.setVisible(False)
        go_on = QPushButton("Pass on  (Enter)")
        go_on.clicked.connect(self.passed_on)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(go_on)
        column.addWidget(step)
        column.addWidget(problem)
        column.addLayout(row)
        self._problems.append(problem)
        self._pass_buttons.append(go_on)
        return body

    def _foot(self) -> QVBoxLayout:
        self.missing = plain_label(muted=True)
        self.missing.setAccessibleName("What is missing")
        self._shelve_words = "Shelve"
        self.shelve_button = QPushButton(self._shelve_words)
        self.shelve_button.setToolTip("Ctrl+Return: shelve the scrap and go on to the next")
        self.another_button = QPushButton("and mark another")
        self.another_button.setToolTip(
            "Ctrl+Shift+Return: shelve the scrap and mark another in the same photograph"
        )
        self.shelve_button.clicked.connect(self.shelve_wanted)
        self.another_button.clicked.connect(self.another_wanted)
        row = QHBoxLayout()
        row.setSpacing(GRID * 2)
        row.addWidget(self.shelve_button, 1)
        row.addWidget(self.another_button)
        column = QVBoxLayout()
        column.setContentsMargins(GRID * 3, GRID * 3, GRID * 3, GRID * 3)
        column.setSpacing(GRID * 2)
        column.addWidget(self.missing)
        column.addLayout(row)
        return column
