"""The commands of the Adhesives place as data."""

from functools import partial
from typing import Protocol

from bindery_stock.bench.adhesives.shelf_rows import LotRow
from bindery_stock.desktop.adhesives.actions import AdhesiveActions
from bindery_stock.desktop.adhesives.lot_dialog import LotStart
from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.desktop.session import Session


class AdhesivesTold(Protocol):
    """What the adhesives can be told, and what they tell of themselves."""

    @property
    def session(self) -> Session:
        """The stockroom in use."""

    @property
    def tasks(self) -> AdhesiveActions:
        """What is done to lots."""

    def chosen(self) -> LotRow | None:
        """The lot in hand."""

    def writable(self) -> bool:
        """Whether it may be written."""

    def use(self) -> None:
        """Use some."""

    def unseal(self) -> None:
        """Open it."""

    def edit(self) -> None:
        """Put right its facts."""

    def test(self) -> None:
        """Record a test."""

    def finish(self) -> None:
        """Say that it is used up."""

    def read_rules(self) -> None:
        """Read the own rules anew."""


def adhesive_commands(place: AdhesivesTold) -> list[Command]:
    """Everything that can be told to the place."""

    def may_enter() -> bool:
        return place.session.is_open and not place.session.stockroom.read_only

    def may_unseal() -> bool:
        row = place.chosen()
        return place.writable() and row is not None and row.lot.opened is None

    return [
        Command(
            name="adhesives.bought",
            text="Enter a lot &bought…",
            tip="Put a tin or packet on the shelf.",
            menu=Menu.LOT,
            keys="Ctrl+Shift+N",
            run=partial(place.tasks.enter, LotStart.BOUGHT),
            enabled=may_enter,
        ),
        Command(
            name="adhesives.made",
            text="Enter a lot &cooked or made…",
            tip="Put a batch of paste or glue on the shelf.",
            menu=Menu.LOT,
            run=partial(place.tasks.enter, LotStart.MADE),
            enabled=may_enter,
        ),
        Command(
            name="adhesives.use",
            text="&Use some of this lot…",
            tip="Take something from the chosen lot for a part of a volume.",
            menu=Menu.LOT,
            keys="Ctrl+Return",
            run=place.use,
            enabled=place.writable,
        ),
        Command(
            name="adhesives.open",
            text="This lot was &opened today",
            tip="From today the count since opening runs.",
            menu=Menu.LOT,
            run=place.unseal,
            enabled=may_unseal,
        ),
        Command(
            name="adhesives.edit",
            text="&Edit this lot…",
            tip="Put right what is known of the chosen lot.",
            menu=Menu.LOT,
            keys="F2",
            run=place.edit,
            enabled=place.writable,
        ),
        Command(
            name="adhesives.test",
            text="Record a &test of this lot…",
            tip="Keep what a strip, a spot or a look has told, with its photograph.",
            menu=Menu.LOT,
            keys="Ctrl+Shift+T",
            run=place.test,
            enabled=place.writable,
        ),
        Command(
            name="adhesives.finish",
            text="&Finish this lot…",
            tip="Say that the chosen lot is used up or thrown away.",
            menu=Menu.LOT,
            keys="Del",
            run=place.finish,
            enabled=place.writable,
        ),
        Command(
            name="adhesives.want",
            text="Put something on the &wanted list…",
            tip="Write down what is to be bought or looked for.",
            menu=Menu.LOT,
            run=place.tasks.want,
            enabled=may_enter,
        ),
        Command(
            name="adhesives.rules",
            text="&Read my rules file again",
            tip="Read rules.toml in the stock folder anew and judge everything by it.",
            menu=Menu.LOT,
            run=place.read_rules,
            enabled=lambda: place.session.is_open,
            begins_group=True,
        ),
    ]
