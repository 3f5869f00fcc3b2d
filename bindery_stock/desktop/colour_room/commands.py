"""What can be told to the colour room, as data."""

from __future__ import annotations

from typing import Protocol

from bindery_stock.desktop.colour_room.panel import ColourPanel
from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.desktop.session import Session


class ColourRoomTold(Protocol):
    """What the colour room can be told."""

    session: Session
    panel: ColourPanel

    def choose(self) -> None:
        """Choose a file."""

    def choose_archived(self) -> None:
        """Choose a photograph from the archive."""

    def use_for_sitting(self, light: str) -> None:
        """Keep the target for the sitting."""


def room_commands(room: ColourRoomTold) -> list[Command]:
    """The commands of the colour room."""
    return [
        Command(
            name="colour.choose",
            text="&Judge a photograph of a target…",
            tip="Choose a photograph with a target of 24 known colours.",
            menu=Menu.PIECE,
            run=room.choose,
            keys="Ctrl+Shift+O",
            begins_group=True,
        ),
        Command(
            name="colour.archive",
            text="Judge a photograph from the &archive…",
            tip="Choose one of the photographs in the archive.",
            menu=Menu.PIECE,
            run=room.choose_archived,
            enabled=lambda: room.session.is_open,
        ),
        Command(
            name="colour.use",
            text="&Use this target for the sitting",
            tip="Lend its correction to photographs of the same camera and light.",
            menu=Menu.PIECE,
            run=lambda: room.use_for_sitting(room.panel.sitting.light.currentText()),
            enabled=room.panel.sitting.use_button.isEnabled,
        ),
    ]
