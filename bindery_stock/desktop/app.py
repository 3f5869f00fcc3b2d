"""The composition root: everything is made here and handed to what needs it."""

import sys
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QTimer
from PySide6.QtWidgets import QApplication

from bindery_stock import __version__
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.colour_room.screen import ColourRoomScreen
from bindery_stock.desktop.exchange.records_desk import RecordsDesk
from bindery_stock.desktop.faults import Faults
from bindery_stock.desktop.front_commands import front_commands
from bindery_stock.desktop.front_desk import FrontDesk
from bindery_stock.desktop.ledger.screen import LedgerScreen
from bindery_stock.desktop.look import dress, dressed_at_last
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.new_maps import NewMaps
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.scanner import Scanner
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import APP_NAME, Settings, log_folder
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.desktop.window import Window


def build(session: Session) -> tuple[Window, FrontDesk]:
    """The window with all its places, and the desk that opens stockrooms for it."""
    with dressed_at_last():
        return _made(session)


def _made(session: Session) -> tuple[Window, FrontDesk]:
    previews = Previews(session)
    shelf = ShelfScreen(session, previews)
    photo_table = PhotoTableScreen(session)
    match = MatchScreen(session, previews)
    books = BooksScreen(session, previews)
    adhesives = AdhesivesScreen(session)
    colour_room = ColourRoomScreen(session)
    ledger = LedgerScreen(session)
    desk = FrontDesk(session)

    def chosen() -> list[str]:
        """The codes chosen in the place in front, for labels."""
        if window.place is adhesives:
            row = adhesives.chosen()
            return [row.lot.code] if row else []
        return [piece.code for piece in shelf.chosen_pieces] if window.place is shelf else []

    def volume() -> str:
        """The code of the volume in front, for its record."""
        return books.volume_view.code if window.place is books else ""

    records = RecordsDesk(session, desk.open_folder, chosen, photo_table.offer, volume)
    window = Window(
        session,
        [shelf, photo_table, match, books, adhesives, colour_room, ledger],
        [*front_commands(desk), *records.commands()],
    )
    desk.window = records.window = window
    desk.marks = window.marks
    records.setParent(window)
    NewMaps(session, window)
    scanner = Scanner(QCoreApplication.instance() or QCoreApplication(), window)
    scanner.scanned.connect(records.show_code)
    shelf.photo_table_wanted.connect(lambda: window.go_to(photo_table))
    shelf.sample_wanted.connect(desk.open_sample)
    session.piece_wanted.connect(lambda _code: window.go_to(shelf))
    session.lot_wanted.connect(lambda _code: window.go_to(adhesives))
    session.volume_wanted.connect(lambda _code: window.go_to(books))
    session.photos_offered.connect(lambda _paths: window.go_to(photo_table))
    session.match_wanted.connect(lambda _code: window.go_to(match))
    session.part_wanted.connect(lambda _part: window.go_to(match))
    return window, desk


def run(*, folder: Path | None, sample: bool) -> int:
    """Open the program on a stock folder, the sample, or what was open last."""
    app = QApplication(sys.argv[:1])
    app.setApplicationName(APP_NAME)
    app.setApplicationDisplayName("Bindery Stock")
    app.setApplicationVersion(__version__)
    app.setDesktopFileName(APP_NAME)
    faults = Faults(log_folder(), app)
    settings = Settings()
    dress(app, settings.scheme)
    app.styleHints().colorSchemeChanged.connect(lambda _scheme: dress(app, settings.scheme))
    session = Session(settings)
    session.fault.connect(faults.report)
    window, desk = build(session)
    faults.found.connect(lambda text: faults.show(text, window))
    window.show()
    QTimer.singleShot(0, lambda: desk.open_first(folder, sample=sample))
    code = app.exec()
    session.close_stockroom()
    return code
