"""What can be told to the photo table, as data."""

from __future__ import annotations

from typing import Protocol

from PySide6.QtGui import QKeySequence

from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.desktop.photo_table.mark_desk import Marking


class PhotoTableTold(Protocol):
    """What the photo table can be told."""

    @property
    def marking(self) -> Marking:
        """The photograph on the table."""

    def choose(self) -> None:
        """Choose photographs."""

    def shelve(self) -> None:
        """Shelve the scrap."""

    def shelve_and_mark_another(self) -> None:
        """Shelve it and stay."""

    def set_aside(self) -> None:
        """Take the photograph off."""

    def bring_back(self) -> None:
        """Put it back."""

    def paste(self) -> None:
        """Take from the clipboard."""


def table_commands(table: PhotoTableTold) -> list[Command]:
    """The commands of the photo table, enabled while it is in front.

    Without a photograph on the table they say so, instead of going grey without a reason.
    """
    return [
        Command(
            name="photo_table.choose",
            text="&Choose photographs…",
            tip="Choose photographs of scraps to shelve.",
            menu=Menu.PIECE,
            keys="Ctrl+Shift+O",
            run=table.choose,
            begins_group=True,
        ),
        Command(
            name="photo_table.shelve",
            text="&Shelve the scrap",
            tip="Shelve the scrap in the photograph and go on to the next.",
            menu=Menu.PIECE,
            keys="Ctrl+Return",
            run=table.shelve,
        ),
        Command(
            name="photo_table.shelve_another",
            text="Shelve and mark &another",
            tip="Shelve the scrap and mark another in the same photograph, with the same scale.",
            menu=Menu.PIECE,
            keys="Ctrl+Shift+Return",
            run=table.shelve_and_mark_another,
        ),
        Command(
            name="photo_table.set_aside",
            text="Set the photograph as&ide",
            tip="Take the photograph off the table; its marks are kept.",
            menu=Menu.PIECE,
            run=table.set_aside,
        ),
        Command(
            name="photo_table.bring_back",
            text="&Bring back what was set aside",
            tip="Put the photograph that was set aside last back on the table, with its marks.",
            menu=Menu.PIECE,
            run=table.bring_back,
        ),
        Command(
            name="photo_table.paste",
            text="&Paste photographs",
            tip="Take photographs, or a picture, from the clipboard.",
            menu=Menu.EDIT,
            keys=QKeySequence.StandardKey.Paste,
            fallback="Ctrl+V",
            run=table.paste,
            begins_group=True,
        ),
        Command(
            name="photo_table.marking.next_step",
            text="Next s&tep",
            tip="Go to the next step at the photo table.",
            menu=Menu.VIEW,
            keys="Ctrl+Down",
            run=table.marking.next_step,
            begins_group=True,
        ),
        Command(
            name="photo_table.marking.previous_step",
            text="P&revious step",
            tip="Go back a step at the photo table.",
            menu=Menu.VIEW,
            keys="Ctrl+Up",
            run=table.marking.previous_step,
        ),
        Command(
            name="photo_table.whole",
            text="&Whole photograph",
            tip="Show the whole photograph.",
            menu=Menu.VIEW,
            keys="Ctrl+0",
            run=table.marking.canvas.fit,
        ),
    ]
