"""The commands of the Books place, as data."""

from typing import TYPE_CHECKING

from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.stock import PartState

if TYPE_CHECKING:
    from bindery_stock.desktop.books.screen import BooksScreen


def book_commands(place: "BooksScreen") -> list[Command]:
    """What can be done with sets, volumes and parts."""
    return [
        Command(
            name="books.survey",
            text="&Survey a volume",
            tip="Measure a volume, tick what is wrong, read its colours.",
            menu=Menu.BOOK,
            keys="Ctrl+Shift+N",
            run=place.survey_new,
            enabled=place.may_change,
        ),
        Command(
            name="books.share_out",
            text="S&hare out the shelf…",
            tip="Share the cloth out over every part of this set that waits.",
            menu=Menu.BOOK,
            keys="Ctrl+Shift+Return",
            run=lambda: place.share_out([]),
            enabled=lambda: place.shows_a_set and place.may_change(),
        ),
        Command(
            name="books.find_cloth",
            text="&Find cloth for this part",
            tip="Hold the chosen part against the shelf at the Match place.",
            menu=Menu.BOOK,
            keys="Ctrl+M",
            run=lambda: place.with_part(place.find_cloth),
            enabled=lambda: place.chosen_part() is not None,
            begins_group=True,
        ),
        Command(
            name="books.cut",
            text="&Cut this part…",
            tip="Cut the chosen part from the piece that is kept for it.",
            menu=Menu.BOOK,
            keys="Ctrl+Return",
            run=lambda: place.with_part(place.tasks.cut),
            enabled=lambda: place.may_change() and place.chosen_in(PartState.RESERVED),
        ),
        Command(
            name="books.cards",
            text="&Looking-for cards…",
            tip="Cards of all parts of this set that nothing serves, to print and carry.",
            menu=Menu.BOOK,
            run=place.all_cards,
            enabled=lambda: bool(place.unserved()),
            begins_group=True,
        ),
        Command(
            name="books.allowances",
            text="&Allowances for all work…",
            tip="Change what is added to a measurement, for every volume.",
            menu=Menu.BOOK,
            run=lambda: place.tasks.set_allowances(None),
            enabled=place.may_change,
        ),
    ]
