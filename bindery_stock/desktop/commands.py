"""Commands as data: each stands once and becomes a menu line, a shortcut and a help entry."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from bindery_stock.desktop.tips import plain_tip


class Menu(StrEnum):
    """The menus, in their order."""

    STOCKROOM = "&Stockroom"
    EDIT = "&Edit"
    PIECE = "&Piece"
    BOOK = "&Book"
    LOT = "&Adhesive"
    RECORDS = "&Records"
    VIEW = "&View"
    HELP = "&Help"


def always() -> bool:
    """A command that can be given at any time."""
    return True


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One thing the user can tell the program to do."""

    name: str
    """Unique and stable: ``shelf.discard``."""
    text: str
    """As the menu shows it, with its mnemonic."""
    tip: str
    """One sentence for the foot of the window and the help page."""
    menu: Menu
    run: Callable[[], None]
    keys: QKeySequence.StandardKey | str | None = None
    fallback: str = ""
    """The keys where the platform has none for a standard key."""
    enabled: Callable[[], bool] = always
    checked: Callable[[], bool] | None = None
    role: QAction.MenuRole = QAction.MenuRole.NoRole
    begins_group: bool = False

    def shortcuts(self) -> list[QKeySequence]:
        """All the keys that mean this on the platform, those the menu shows first."""
        if self.keys is None:
            return []
        if isinstance(self.keys, str):
            return [QKeySequence(self.keys)]
        bound = QKeySequence.keyBindings(self.keys)
        return bound or ([QKeySequence(self.fallback)] if self.fallback else [])


def action_for(command: Command, parent: QWidget) -> QAction:
    """The Qt action of a command."""
    action = QAction(command.text, parent)
    action.setObjectName(command.name)
    action.setStatusTip(command.tip)
    action.setToolTip(plain_tip(command.tip))
    action.setShortcuts(command.shortcuts())
    action.setMenuRole(command.role)
    action.setCheckable(command.checked is not None)
    action.triggered.connect(lambda _checked=False: command.run())
    return action


def refresh(action: QAction, command: Command) -> None:
    """Bring an action's state up to date with its command."""
    action.setEnabled(command.enabled())
    if command.checked is not None:
        action.setChecked(command.checked())


def fill(menu: QMenu, pairs: list[tuple[Command, QAction]]) -> None:
    """Put commands into a menu, with a rule before each new group."""
    for command, action in pairs:
        if command.begins_group and menu.actions():
            menu.addSeparator()
        menu.addAction(action)
