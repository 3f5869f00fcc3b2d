"""A dialog that hands what was typed to the stockroom, and closes only once it has it."""

from collections.abc import Callable
from functools import partial

import shiboken6
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from bindery_stock.desktop.column import plain_label
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.unkept import LEAVE_AGAIN, Unkept
from bindery_stock.errors import Barred, BinderyError
from bindery_stock.stock import Changes, Stockroom


class StockDialog(QDialog):
    """Says beside the field what was refused; everything typed stays.

    A subclass reads its entries in ``take``, which emits them. Whoever hears it calls ``hand``
    with the verb: it runs on the stock thread, and the dialog closes when it is done. Where no one
    hands anything on, there was nothing to change, and the dialog closes at once.
    """

    def __init__(self, parent: QWidget | None) -> None:
        """Begin with nothing wrong."""
        super().__init__(parent)
        self._button: QPushButton | None = None
        self._form: QFormLayout | None = None
        self._fields: dict[str, QWidget] = {}
        self._beside: dict[QWidget, QLabel] = {}
        self._reason: tuple[QFormLayout, QLineEdit] | None = None
        self._marked: QWidget | None = None
        self._under_way = False
        self._unkept = Unkept(self)
        self._at_foot = plain_label()
        self._at_foot.setAccessibleName("What is wrong")
        self._at_foot.hide()
        self.wrong = self._at_foot
        """The words of what is wrong: beside its field, or in the line the subclass has laid out
        for what is about no one field.
        """

    def showEvent(self, event: QShowEvent) -> None:
        """What it begins with is nothing of the binder's."""
        super().showEvent(event)
        if not event.spontaneous():
            self.make_room()
            self._unkept.begin()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves; where something was entered it says first that it is lost."""
        if event.key() == Qt.Key.Key_Escape and not self._unkept.may_leave():
            self.say_wrong(LEAVE_AGAIN)
            return
        super().keyPressEvent(event)

    def act_on(self, button: QPushButton) -> None:
        """This button hands over what was typed."""
        self._button = button
        button.clicked.connect(self._pressed)

    def refuse_in(self, form: QFormLayout) -> None:
        """What is wrong with an entry of this form is said in a line under it."""
        self._form = form

    def name_field(self, entry: QWidget, *names: str) -> None:
        """The names under which errors know this entry."""
        for name in names:
            self._fields[name.replace("&", "").casefold()] = entry

    def ask_reason_in(self, form: QFormLayout) -> None:
        """Where the gate wants a written reason it is asked for in the last row of this form.

        The row is hidden until then.
        """
        entry = QLineEdit()
        entry.setPlaceholderText("Why it is done all the same")
        form.addRow("Written rea&son", entry)
        form.setRowVisible(entry, False)
        self._reason = (form, entry)
        self.name_field(entry, "Reason")

    def want_reason(self, text: str = "") -> None:
        """Show the row for the reason, with this in it."""
        if self._reason is not None:
            form, entry = self._reason
            form.setRowVisible(entry, True)
            if text:
                entry.setText(text)

    @property
    def written_reason(self) -> str:
        """The reason as written; empty where none is."""
        return self._reason[1].text().strip() if self._reason is not None else ""

    @property
    def reason_entry(self) -> QLineEdit | None:
        """Where the reason is written, in a dialog that can ask for one."""
        return self._reason[1] if self._reason is not None else None

    def take(self) -> None:
        """Read the entries and tell what they say. Raises one of our errors."""
        raise NotImplementedError

    def hand(
        self,
        session: Session,
        verb: Callable[[Stockroom], Changes],
        done: Callable[[Changes], None] | None = None,
    ) -> None:
        """Have it done off the GUI thread; close when it is, or say what was refused."""
        self._under_way = True
        if self._button is not None:
            self._button.setEnabled(False)
        session.do(verb, done=partial(self._done, done), failed=partial(self._not_done, session))

    def _pressed(self) -> None:
        self.tell_by(self.take)

    def tell_by(self, tell: Callable[[], None]) -> None:
        """Tell what stands in the entries by this deed; close, or say what is wrong with them."""
        self.say_wrong("")
        try:
            tell()
        except BinderyError as error:
            self.say_wrong(str(error), error.field)
            return
        if not self._under_way:
            self.accept()

    def _done(self, done: Callable[[Changes], None] | None, changes: Changes) -> None:
        if shiboken6.isValid(self):
            self._under_way = False
            self.accept()
        if done is not None:
            done(changes)

    def _not_done(self, session: Session, error: Exception) -> None:
        if not shiboken6.isValid(self) or not self.isVisible():
            session.tell(error)
            return
        self._under_way = False
        if self._button is not None:
            self._button.setEnabled(True)
        if isinstance(error, Barred) and self._reason is not None:
            self.want_reason()
            self.say_wrong(str(error), "Reason")
        elif isinstance(error, BinderyError):
            self.say_wrong(str(error), error.field)
        else:
            session.tell(error)

    def say_wrong(self, words: str, field: str = "") -> None:
        """Say what is wrong, beside the entry known by ``field``; nothing where no words are."""
        self._forget_wrong()
        entry = self._fields.get(field.casefold())
        if not words:
            return
        if entry is not None and not entry.isVisibleTo(self):
            entry = None
        self.wrong = self._line_beside(entry) if entry is not None else self._at_foot
        self.wrong.setText(words)
        self._show_line(self.wrong, shown=True)
        self.make_room()
        if entry is not None:
            self._marked = entry
            _mark(entry, words)
            entry.setFocus()

    def make_room(self) -> None:
        """Grow where the words would press the entries together."""
        layout = self.layout()
        if layout is None:
            return
        layout.activate()
        wanted = layout.totalHeightForWidth(self.width())
        if wanted > self.height():
            self.resize(self.width(), wanted)

    def _forget_wrong(self) -> None:
        self.wrong.setText("")
        self._show_line(self.wrong, shown=False)
        if self._marked is not None:
            _mark(self._marked, "")
            self._marked = None

    def _show_line(self, line: QLabel, *, shown: bool) -> None:
        if self._form is not None and line in self._beside.values():
            self._form.setRowVisible(line, shown)
        else:
            line.setVisible(shown)

    def _line_beside(self, entry: QWidget) -> QLabel:
        """The line under the row of an entry, made when it is first wanted."""
        if entry in self._beside:
            return self._beside[entry]
        row = _row_of(self._form, entry)
        if self._form is None or row is None:
            return self._at_foot
        line = plain_label()
        line.setAccessibleName("What is wrong")
        self._form.insertRow(row + 1, "", line)
        self._beside[entry] = line
        return line


def _row_of(form: QFormLayout | None, entry: QWidget) -> int | None:
    """The row an entry stands in, by itself or with others."""
    for row in range(form.rowCount() if form is not None else 0):
        for role in (QFormLayout.ItemRole.FieldRole, QFormLayout.ItemRole.SpanningRole):
            item = form.itemAt(row, role) if form is not None else None
            if item is None:
                continue
            inner = item.layout()
            if item.widget() is entry or (inner is not None and inner.indexOf(entry) >= 0):
                return row
    return None


def _mark(entry: QWidget, words: str) -> None:
    """Frame an entry as wrong, or as right where there are no words."""
    line = entry.lineEdit() if isinstance(entry, QComboBox) else None
    for widget in (entry, line):
        if widget is not None:
            widget.setAccessibleDescription(words)
    entry.setProperty("wrong", bool(words))
    entry.style().unpolish(entry)
    entry.style().polish(entry)
