"""The commands that belong to no single place, as data."""

from collections.abc import Callable
from functools import partial

from PySide6.QtGui import QAction, QKeySequence

from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.desktop.front_desk import FrontDesk
from bindery_stock.desktop.look import Scheme
from bindery_stock.desktop.screen import Screen
from bindery_stock.units import Unit

_KEY = QKeySequence.StandardKey


def front_commands(desk: FrontDesk) -> list[Command]:
    """Everything in the menus that belongs to no place."""
    return [*_stockroom_commands(desk), *_edit_commands(desk), *_view_commands(desk)]


def _stockroom_commands(desk: FrontDesk) -> list[Command]:
    return [
        Command(
            name="stockroom.open",
            text="&Open a stock folder…",
            tip="Open another stockroom.",
            menu=Menu.STOCKROOM,
            keys=_KEY.Open,
            run=desk.ask_open,
        ),
        Command(
            name="stockroom.new",
            text="&New stockroom…",
            tip="Make a stockroom in an empty folder of your choice.",
            menu=Menu.STOCKROOM,
            keys=_KEY.New,
            run=desk.ask_make,
        ),
        Command(
            name="stockroom.sample",
            text="Open the &sample afresh",
            tip="Lay out the sample stockroom anew and open it; your own stock is not touched.",
            menu=Menu.STOCKROOM,
            run=desk.open_sample,
        ),
        Command(
            name="stockroom.quit",
            text="&Quit",
            tip="Close the program. Everything is saved already.",
            menu=Menu.STOCKROOM,
            keys=_KEY.Quit,
            fallback="Ctrl+Q",
            role=QAction.MenuRole.QuitRole,
            run=desk.close_window,
            begins_group=True,
        ),
    ]


def _edit_commands(desk: FrontDesk) -> list[Command]:
    return [
        Command(
            name="edit.undo",
            text="&Undo",
            tip="Take back the last step made with the stock; while marking, the last mark.",
            menu=Menu.EDIT,
            keys=_KEY.Undo,
            run=desk.undo,
            enabled=desk.may_undo,
        ),
        Command(
            name="edit.redo",
            text="&Redo",
            tip="Do the step that was taken back again.",
            menu=Menu.EDIT,
            keys=_KEY.Redo,
            run=desk.redo,
            enabled=desk.may_redo,
        ),
    ]


def _view_commands(desk: FrontDesk) -> list[Command]:
    schemes = [
        Command(
            name=f"view.scheme.{scheme.value}",
            text=text,
            tip="Choose the greys of the window; cloth looks the same in both.",
            menu=Menu.VIEW,
            run=partial(desk.set_scheme, scheme),
            checked=partial(desk.scheme_is, scheme),
            begins_group=scheme is Scheme.SYSTEM,
        )
        for scheme, text in (
            (Scheme.SYSTEM, "Palette of the s&ystem"),
            (Scheme.LIGHT, "&Light palette"),
            (Scheme.DARK, "&Dark palette"),
        )
    ]
    units = [
        Command(
            name=f"view.unit.{unit.name.lower()}",
            text=text,
            tip="Choose the unit lengths are shown in; either may be typed at any time.",
            menu=Menu.VIEW,
            run=partial(desk.set_unit, unit),
            checked=partial(desk.unit_is, unit),
            begins_group=unit is Unit.MM,
        )
        for unit, text in ((Unit.MM, "&Millimetres"), (Unit.INCH, "&Inches and fractions"))
    ]
    about = [
        Command(
            name="help.pages",
            text="&Help",
            tip="How each place works, and the keys.",
            menu=Menu.HELP,
            keys=_KEY.HelpContents,
            fallback="F1",
            run=desk.show_help,
        ),
        Command(
            name="help.about",
            text="&About Bindery Stock",
            tip="The version and the licence.",
            menu=Menu.HELP,
            role=QAction.MenuRole.AboutRole,
            run=desk.show_about,
        ),
    ]
    return [*schemes, *units, *about]


def place_command(index: int, place: Screen, go_to: Callable[[Screen], None]) -> Command:
    """The command that brings a place forward, by its number among them."""
    return Command(
        name=f"view.{place.title.lower().replace(' ', '_')}",
        text=place.title,
        tip=f"Go to the {place.title.lower()}.",
        menu=Menu.VIEW,
        keys=f"Ctrl+{index + 1}",
        run=lambda: go_to(place),
        begins_group=index == 0,
    )
