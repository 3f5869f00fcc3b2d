"""The shelf's commands as data."""

from collections.abc import Callable
from functools import partial
from typing import Protocol

from PySide6.QtGui import QKeySequence

from bindery_stock.bench.shelf.search import Order
from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.finder import Finder
from bindery_stock.desktop.shelf.hoard_view import HoardView
from bindery_stock.shape import is_sheet
from bindery_stock.stock import StockPiece


class ShelfTold(Protocol):
    """What the shelf can be told, and what it tells of itself."""

    @property
    def session(self) -> Session:
        """The stockroom in use."""

    @property
    def hoard(self) -> HoardView:
        """The pieces to scale."""

    @property
    def finder(self) -> Finder:
        """What is searched for."""

    @property
    def order(self) -> Order:
        """By what the hoard is arranged."""

    @property
    def is_table(self) -> bool:
        """Whether the pieces stand as a table."""

    @property
    def chosen_piece(self) -> StockPiece | None:
        """The piece in the sheet."""

    def find_match(self) -> None:
        """Seek the closest colour."""

    def edit(self) -> None:
        """Put right the facts."""

    def move_pieces(self) -> None:
        """Say where pieces lie."""

    def photograph_anew(self) -> None:
        """Replace outline and photograph."""

    def cut_length(self) -> None:
        """Take a length off."""

    def discard(self) -> None:
        """Take out of stock."""

    def copy(self) -> None:
        """Copy as lines of a table."""

    def find_words(self) -> None:
        """Go to the search line."""

    def show_table(self, on: bool) -> None:
        """Show a table, or the hoard."""

    def arrange_by(self, order: Order) -> None:
        """Lay the hoard by this."""


def shelf_commands(shelf: ShelfTold) -> list[Command]:
    """Everything that can be told to the shelf."""
    return _piece_commands(shelf) + _view_commands(shelf)


def _piece_commands(shelf: ShelfTold) -> list[Command]:
    def chosen() -> bool:
        return shelf.chosen_piece is not None

    def writable() -> bool:
        return chosen() and not shelf.session.stockroom.read_only

    def plain_sheet() -> bool:
        piece = shelf.chosen_piece
        return writable() and piece is not None and is_sheet(piece.outline)

    def coloured() -> bool:
        piece = shelf.chosen_piece
        return piece is not None and piece.colour is not None

    return [
        Command(
            name="shelf.match",
            text="Find a &match for this colour",
            tip="Look for the pieces whose colour is closest to the chosen one's.",
            menu=Menu.PIECE,
            keys="Ctrl+M",
            run=shelf.find_match,
            enabled=coloured,
        ),
        Command(
            name="shelf.edit",
            text="&Edit facts…",
            tip="Put right what is known of the chosen piece.",
            menu=Menu.PIECE,
            keys="F2",
            run=shelf.edit,
            enabled=writable,
            begins_group=True,
        ),
        Command(
            name="shelf.move",
            text="Mo&ve…",
            tip="Say where the chosen pieces lie now.",
            menu=Menu.PIECE,
            keys="Ctrl+Shift+M",
            run=shelf.move_pieces,
            enabled=writable,
        ),
        Command(
            name="shelf.anew",
            text="P&hotograph anew…",
            tip="Replace outline, photograph and colours of the chosen piece; its code stays.",
            menu=Menu.PIECE,
            run=shelf.photograph_anew,
            enabled=writable,
        ),
        Command(
            name="shelf.length",
            text="Cut a &length off…",
            tip="Take a length off the chosen roll or sheet, which stays one piece.",
            menu=Menu.PIECE,
            run=shelf.cut_length,
            enabled=plain_sheet,
        ),
        Command(
            name="shelf.discard",
            text="&Discard…",
            tip="Take the chosen piece out of stock, with the reason.",
            menu=Menu.PIECE,
            keys=QKeySequence.StandardKey.Delete,
            fallback="Del",
            run=shelf.discard,
            enabled=writable,
        ),
        Command(
            name="shelf.copy",
            text="&Copy pieces",
            tip="Copy the chosen pieces as lines of a table.",
            menu=Menu.EDIT,
            keys=QKeySequence.StandardKey.Copy,
            fallback="Ctrl+C",
            run=shelf.copy,
            enabled=chosen,
            begins_group=True,
        ),
        Command(
            name="shelf.find",
            text="&Find",
            tip="Go to the search line.",
            menu=Menu.EDIT,
            keys=QKeySequence.StandardKey.Find,
            fallback="Ctrl+F",
            run=shelf.find_words,
        ),
        Command(
            name="shelf.clear",
            text="C&lear the search",
            tip="Show every piece again.",
            menu=Menu.EDIT,
            keys="Ctrl+Shift+F",
            run=shelf.finder.clear,
            enabled=lambda: shelf.finder.looking.asks,
        ),
    ]


def _view_commands(shelf: ShelfTold) -> list[Command]:
    def hoard() -> bool:
        return not shelf.is_table

    def lies_by(order: Order) -> bool:
        return shelf.order is order

    zooms: list[tuple[str, str, str, QKeySequence.StandardKey | str, Callable[[], None]]] = [
        ("in", "Nearer", "Come nearer.", QKeySequence.StandardKey.ZoomIn, shelf.hoard.zoom_in),
        ("out", "Further off", "Go back.", QKeySequence.StandardKey.ZoomOut, shelf.hoard.zoom_out),
        ("whole", "The &whole hoard", "See every piece.", "Ctrl+0", shelf.hoard.show_whole),
    ]
    table = Command(
        name="shelf.table",
        text="As a &table",
        tip="Show the same pieces as a table, or to scale again.",
        menu=Menu.VIEW,
        keys="Ctrl+T",
        run=lambda: shelf.show_table(not shelf.is_table),
        checked=lambda: shelf.is_table,
        begins_group=True,
    )
    orders = [
        Command(
            name=f"shelf.by_{order.name.lower()}",
            text=f"Arranged by {order}",
            tip=f"Lay the hoard by {order}.",
            menu=Menu.VIEW,
            run=partial(shelf.arrange_by, order),
            enabled=hoard,
            checked=partial(lies_by, order),
            begins_group=order is Order.COLOUR,
        )
        for order in Order
    ]
    steps = [
        Command(
            name=f"shelf.zoom_{name}",
            text=text,
            tip=tip,
            menu=Menu.VIEW,
            keys=keys,
            fallback={"in": "Ctrl++", "out": "Ctrl+-"}.get(name, ""),
            run=run,
            enabled=hoard,
            begins_group=name == "in",
        )
        for name, text, tip, keys, run in zooms
    ]
    return [table, *orders, *steps]
