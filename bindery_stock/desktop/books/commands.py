"""The commands of the Books place, as data."""

from collections.abc import Callable
from typing import Protocol

from bindery_stock.desktop.books.actions import BookActions
from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.stock import BookPart, PartState


class BooksTold(Protocol):
    """What the books can be told, and what they tell of themselves."""

    @property
    def tasks(self) -> BookActions:
        """What is done to sets and parts."""

    @property
    def shows_a_set(self) -> bool:
        """Whether a set is in front."""

    def may_change(self) -> bool:
        """Whether the stock may be written."""

    def chosen_part(self) -> BookPart | None:
        """The part in hand."""

    def chosen_in(self, state: PartState) -> bool:
        """Whether it is in this state."""

    def with_part(self, deed: Callable[[int], None]) -> None:
        """Do this to the part in hand."""

    def unserved(self) -> list[BookPart]:
        """Parts that nothing serves."""

    def all_cards(self) -> None:
        """Show their cards."""

    def survey_new(self) -> None:
        """Begin a volume."""

    def find_cloth(self, part_id: int) -> None:
        """Hold a part against the shelf."""

    def share_out(self, again: list[int]) -> None:
        """Share the cloth out."""


def book_commands(place: BooksTold) -> list[Command]:
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
