"""The commands of what leaves the program and what comes back, as data."""

from typing import Protocol

from bindery_stock.desktop.commands import Command, Menu
from bindery_stock.desktop.exchange.inbox import Inbox
from bindery_stock.desktop.session import Session


class RecordsTold(Protocol):
    """What the records desk can be told."""

    @property
    def session(self) -> Session:
        """The stockroom in use."""

    @property
    def inbox(self) -> Inbox:
        """The folder that is watched."""

    def labels(self) -> None:
        """Print labels."""

    def lists(self) -> None:
        """Print lists."""

    def record(self) -> None:
        """Print a treatment record."""

    def take_in(self) -> None:
        """Take in a table."""

    def watch_phone(self) -> None:
        """Watch a folder."""

    def pack(self) -> None:
        """Save the whole stockroom."""

    def unpack(self) -> None:
        """Lay a saved one out."""

    def merge(self) -> None:
        """Take in another."""

    def backups(self) -> None:
        """Show the copies."""


def records_commands(desk: RecordsTold) -> list[Command]:
    """Everything that can be told to the records desk."""
    session = desk.session

    def is_open() -> bool:
        return session.is_open

    def may_write() -> bool:
        return session.is_open and not session.stockroom.read_only

    def watches() -> bool:
        return desk.inbox.folder is not None

    return [
        Command(
            name="records.labels",
            text="&Labels…",
            tip="Print labels for what is chosen, or for everything.",
            menu=Menu.RECORDS,
            keys="Ctrl+Shift+L",
            run=desk.labels,
            enabled=is_open,
            begins_group=True,
        ),
        Command(
            name="records.lists",
            text="L&ists…",
            tip="Print or save stock, wants, what expires, what remains and what it cost; volumes.",
            menu=Menu.RECORDS,
            keys="Ctrl+P",
            run=desk.lists,
            enabled=is_open,
        ),
        Command(
            name="records.record",
            text="Proposal and &treatment record…",
            tip="Print or save what is proposed for a volume, or what was done to it.",
            menu=Menu.RECORDS,
            keys="Ctrl+Shift+R",
            run=desk.record,
            enabled=is_open,
        ),
        Command(
            name="records.take_in",
            text="Take in a ta&ble…",
            tip="Shelve pieces or adhesives from a CSV or a workbook, tried before any is kept.",
            menu=Menu.RECORDS,
            run=desk.take_in,
            enabled=may_write,
            begins_group=True,
        ),
        Command(
            name="records.watch",
            text="&Watch a phone folder…",
            tip="New photographs there are copied and wait at the photo table.",
            menu=Menu.RECORDS,
            run=desk.watch_phone,
            enabled=may_write,
        ),
        Command(
            name="records.unwatch",
            text="Stop watching the &phone folder",
            tip="Leave the phone's folder alone.",
            menu=Menu.RECORDS,
            run=desk.inbox.stop,
            enabled=watches,
        ),
        Command(
            name="records.pack",
            text="Save the &whole stockroom…",
            tip="Everything with its photographs as one file, to keep or to carry elsewhere.",
            menu=Menu.RECORDS,
            run=desk.pack,
            enabled=is_open,
            begins_group=True,
        ),
        Command(
            name="records.unpack",
            text="Lay &out a saved stockroom…",
            tip="Make a stock folder of a file in which a whole stockroom was saved.",
            menu=Menu.RECORDS,
            run=desk.unpack,
        ),
        Command(
            name="records.merge",
            text="Take in another stock&room…",
            tip="Bring what is new in another stockroom into this one; what differs is shown.",
            menu=Menu.RECORDS,
            run=desk.merge,
            enabled=may_write,
        ),
        Command(
            name="records.backups",
            text="&Backups…",
            tip="See the copies of this stockroom, and go back to one.",
            menu=Menu.RECORDS,
            run=desk.backups,
        ),
    ]
