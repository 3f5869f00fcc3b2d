"""The window: places down the side, one of them in front, and the foot."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import (
    QAction,
    QCloseEvent,
    QKeyEvent,
    QKeySequence,
)
from PySide6.QtWidgets import (
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from bindery_stock.desktop.column import hair_line
from bindery_stock.desktop.commands import Command, Menu, action_for, fill, refresh
from bindery_stock.desktop.drops import TakesPhotos
from bindery_stock.desktop.foot import Foot
from bindery_stock.desktop.front_commands import place_command
from bindery_stock.desktop.screen import (
    EitherOr,
    EmptyState,
    MarkTurns,
    Screen,
    next_button,
    quiet_button,
)
from bindery_stock.desktop.screen_room import OpensWhole
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.side_panel import SidePanel
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.errors import NotFound
from bindery_stock.stock import Step

_WANTED = QSize(1280, 800)
_LEAST = QSize(960, 640)
_STATE = "window"


class Window(TakesPhotos, OpensWhole):
    """The main window. Emits ``closed()`` once the user has closed it."""

    closed = Signal()

    def __init__(self, session: Session, places: list[Screen], commands: list[Command]) -> None:
        """Lay out the places and build the menus from the commands."""
        super().__init__()
        self.session = session
        self.places = places
        self._to_tell: list[Callable[[], None]] = []
        """What was said while a stockroom is being read: shown once it is open."""
        self.setWindowTitle("Bindery Stock")
        room = self.screen().availableSize()
        self.setMinimumSize(QSize(_LEAST.width(), min(_LEAST.height(), room.height())))
        self.setAcceptDrops(True)
        self._build_body()
        self._build_menus(commands)
        self._listen()
        self._restore()

    def _build_body(self) -> None:
        self.stack = QStackedWidget()
        self.foot = Foot()
        for place in self.places:
            self.stack.addWidget(place)
        panel = SidePanel(self.places)
        self.side, self.stockroom_name, self.code_entry = panel.places, panel.name, panel.code
        self.side.currentRowChanged.connect(self._bring_forward)
        panel.code_typed.connect(self._go_to_code)
        middle = QHBoxLayout()
        middle.addWidget(panel)
        middle.addWidget(hair_line(upright=True))
        self.reading = EmptyState("Opening the stockroom…", "", [])
        self.front = EitherOr(self.stack, self._build_refused(), self.reading)
        middle.addWidget(self.front, 1)
        body = QVBoxLayout()
        body.addLayout(middle, 1)
        body.addWidget(hair_line())
        body.addWidget(self.foot)
        for layout in (middle, body):
            layout.setContentsMargins(0, 0, 0, 0)
            layout.setSpacing(0)
        central = QWidget()
        central.setLayout(body)
        self.setCentralWidget(central)

    def _build_refused(self) -> QWidget:
        """What stands in the place of all others while a stockroom could not be opened."""
        backups = next_button("Backups, and saving what can be read…")
        backups.clicked.connect(lambda: self.action("records.backups").trigger())
        other = quiet_button("Open another stock folder…")
        other.clicked.connect(lambda: self.action("stockroom.open").trigger())
        self.refused = EmptyState("This stockroom is not in use", "", [backups, other])
        self.refused.words.setTextFormat(Qt.TextFormat.PlainText)
        return self.refused

    def _build_menus(self, commands: list[Command]) -> None:
        self._actions: list[tuple[Command, QAction, Screen | None]] = []
        owned: list[tuple[Command, Screen | None]] = [(c, None) for c in commands]
        owned += [(c, place) for place in self.places for c in place.commands()]
        owned += [(place_command(i, p, self.go_to), None) for i, p in enumerate(self.places)]
        for command, place in owned:
            action = action_for(command, self)
            # The same keys may serve in two places; only the one in front is enabled for them.
            self._actions.append((command, action, place))
        for title in Menu:
            menu = self.menuBar().addMenu(title.value)
            menu.setToolTipsVisible(True)
            pairs = [(c, a) for c, a, _ in self._actions if c.menu is title]
            fill(menu, pairs)
            menu.aboutToShow.connect(self.refresh_commands)
            menu.aboutToHide.connect(self.foot.unhint)
        for _, action, _place in self._actions:
            self.addAction(action)
            action.hovered.connect(lambda a=action: self.foot.hint(a.statusTip()))

    def _listen(self) -> None:
        session = self.session
        session.said.connect(self._say)
        session.stepped.connect(self._say_step)
        session.trouble.connect(self._warn)
        session.noticed.connect(self.foot.note)
        session.opening.connect(self._say_opening)
        session.opened.connect(self._show_stockroom)
        session.unread.connect(self._show_refused)
        session.changed.connect(self.refresh_commands)
        self.foot.undo_wanted.connect(session.undo)
        self.foot.redo_wanted.connect(session.redo)

    def _restore(self) -> None:
        settings = self.session.settings
        if not self.restoreGeometry(settings.state(_STATE)):
            self.open_whole(_WANTED)
        self.side.setCurrentRow(0)

    def _show_refused(self, why: str) -> None:
        """Show no place at all: what they held would be taken for what the stockroom holds."""
        folder = self.session.refused
        name = folder.name if folder is not None else ""
        self.stockroom_name.setText(name)
        self.stockroom_name.setToolTip(plain_tip(str(folder or "")))
        self.setWindowTitle(f"{name} (not in use) – Bindery Stock")
        self.refused.say("This stockroom is not in use", why)
        self.front.show_only(self.refused)
        self._offer_places(on=False)

    def _offer_places(self, *, on: bool) -> None:
        self.side.setEnabled(on)
        self.code_entry.setEnabled(on)
        self.refresh_commands()

    def _show_stockroom(self) -> None:
        were_hidden = not self._shows_places
        self.front.show_only(self.stack)
        self._offer_places(on=True)
        if were_hidden:
            self.place.came_forward()
        folder = Path(self.session.stockroom.folder)
        self.stockroom_name.setText(folder.name)
        self.stockroom_name.setToolTip(plain_tip(str(folder)))
        note = " (reading only)" if self.session.stockroom.read_only else ""
        self.setWindowTitle(f"{folder.name}{note} – Bindery Stock")
        self.foot.clear()
        for told in self._to_tell:
            told()
        self._to_tell.clear()
        self.refresh_commands()

    def _say(self, words: str) -> None:
        if self.session.is_opening:
            self._to_tell.append(partial(self._say, words))
        else:
            self.foot.say(words)

    def _say_step(self, step: Step) -> None:
        if self.session.is_opening:
            self._to_tell.append(partial(self._say_step, step))
        else:
            undo, redo = self.session.way_on(step)
            self.foot.say_step(step.name, undo=undo, redo=redo)

    def _warn(self, words: str) -> None:
        if self.session.is_opening:
            self._to_tell.append(partial(self._warn, words))
        else:
            self._to_tell.clear()
            self.foot.warn(words)

    def _bring_forward(self, row: int) -> None:
        if 0 <= row < len(self.places):
            self.stack.setCurrentIndex(row)
            self.refresh_commands()
            self.places[row].came_forward()

    @property
    def place(self) -> Screen:
        """The place in front."""
        return self.places[self.stack.currentIndex()]

    @property
    def _shows_places(self) -> bool:
        """Whether the places can be seen: not where a stockroom is refused, or being read."""
        return self.front.shown is self.stack

    def go_to(self, place: Screen) -> None:
        """Bring a place forward."""
        row = self.places.index(place)
        if self.side.currentRow() == row:
            place.came_forward()
        self.side.setCurrentRow(row)

    def _say_opening(self) -> None:
        """Where the one before is closed already, show no place: nothing of it can be asked."""
        self.foot.say("Opening the stockroom…")
        if not self.session.is_open:
            self.front.show_only(self.reading)
            self._offer_places(on=False)

    def refresh_commands(self) -> None:
        """Bring every menu line up to date: what can be done, and the name of what Undo undoes."""
        taken: set[str] = set()
        for command, action, place in self._actions:
            here = place is None or (place is self.place and self._shows_places)
            if place is None or self._shows_places:  # else there may be no stockroom to ask
                refresh(action, command)
            action.setEnabled(here and action.isEnabled())
            # Qt calls two live actions with the same keys ambiguous and runs neither.
            free = [keys for keys in command.shortcuts() if here and _named(keys) not in taken]
            action.setShortcuts(free)
            taken.update(_named(keys) for keys in free)
            if command.name == "edit.undo":
                action.setText(self._undo_text("&Undo", undo=True))
            elif command.name == "edit.redo":
                action.setText(self._undo_text("&Redo", undo=False))

    def event(self, event: QEvent) -> bool:
        """Before keys are looked up, see whether what they command can be done by now."""
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            keys = QKeySequence(event.keyCombination())
            for command, action, place in self._actions:
                asked = place is None or (place is self.place and self._shows_places)
                if asked and keys in command.shortcuts():
                    refresh(action, command)
        return super().event(event)

    def marks(self) -> MarkTurns | None:
        """What Undo and Redo are about while something is being marked at the place in front."""
        return self.place.marks() if self._shows_places else None

    def _undo_text(self, word: str, *, undo: bool) -> str:
        marks = self.marks()
        if marks is not None:
            name = marks.undo if undo else marks.redo
        else:
            step = self.session.undoable if undo else self.session.redoable
            name = step.name if step is not None else ""
        return f"{word}: {name.replace('&', '&&')}" if name else word

    def action(self, name: str) -> QAction:
        """The action of the command with this name."""
        return next(a for c, a, _ in self._actions if c.name == name)

    def _go_to_code(self, code: str) -> None:
        try:
            self.session.show_code(code)
        except NotFound as error:
            self.session.tell(error)

    # Photographs may be dropped anywhere on the window.

    def photos_dropped(self, paths: list[Path]) -> None:
        """Hand photographs dropped anywhere on to the photo table."""
        if self.session.refused is None:
            self.session.photos_offered.emit(paths)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Remember the window and close the stockroom."""
        if not all(place.may_leave() for place in self.places):
            event.ignore()
            return
        self.session.settings.set_state(_STATE, self.saveGeometry())
        self.session.settings.flush()
        self.hide()  # the last copy of a large stockroom takes a moment, which no one need watch
        self.session.close_stockroom()
        self.closed.emit()
        super().closeEvent(event)


def _named(keys: QKeySequence) -> str:
    """The keys as they are compared: the same on every platform."""
    return keys.toString(QKeySequence.SequenceFormat.PortableText)
