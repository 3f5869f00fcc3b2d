"""Pictures of every place, to be looked at: ``python -m tests.screens FOLDER``.

Needs a display (``xvfb-run`` will do). Opens a working copy of the sample and saves each place in
both palettes at 1280 × 800 and 1920 × 1080, one file each, and a contact sheet of all.
"""

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from PIL import Image
from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from bindery_stock.desktop.app import build
from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.sample import fresh_copy, open_working_copy
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import Settings
from bindery_stock.desktop.window import Window
from bindery_stock.units import Unit

SIZES = ((1280, 800), (1920, 1080))
SETTLE_MS = 400
LONGEST_MS = 20_000


def settle(session: Session) -> None:
    """Let the window do its work until nothing is under way."""
    loop = QEventLoop()
    waited = 0
    while waited < LONGEST_MS:
        QTimer.singleShot(SETTLE_MS, loop.quit)
        loop.exec()
        waited += SETTLE_MS
        if not session.jobs.busy:
            return


def scenes(window: Window, session: Session) -> Iterator[tuple[str, Callable[[], None]]]:
    """Each place as it is best seen, by name."""
    places = {place.title: place for place in window.places}
    rib = [p for p in session.pieces if p.pattern == "rib" and p.colour and p.marks]
    chosen = max(rib, key=lambda piece: piece.outline.area)

    def shelf() -> None:
        session.piece_wanted.emit(chosen.code)

    def match() -> None:
        match_place = places["Match"]
        match_place.form.purpose.setText("reback strip, vol. 10")
        session.match_wanted.emit(chosen.code)

    def photo_table() -> None:
        photo = chosen.marks[0].photo
        session.photos_offered.emit([session.stockroom.photo_path(photo.sha256)])

    yield "shelf", shelf
    yield "match", match
    yield "photo-table", photo_table
    for title in ("Books", "Adhesives", "Colour", "Ledger"):
        yield title.lower(), lambda place=places[title]: window.go_to(place)


def main(folder: Path) -> None:
    """Save every picture under ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    pictures = []
    for scheme in (Scheme.LIGHT, Scheme.DARK):
        for width, height in SIZES:
            with tempfile.TemporaryDirectory() as home:
                os.environ["BINDERY_STOCK_HOME"] = home
                dress(app, scheme)
                settings = Settings()
                settings.unit = Unit.MM
                session = Session(settings)
                window, _desk = build(session)
                session.use(open_working_copy(fresh_copy(Path(home)), Path(home)))
                window.resize(width, height)
                window.show()
                for name, show in scenes(window, session):
                    show()
                    settle(session)
                    path = folder / f"{name}-{scheme.value}-{width}.png"
                    window.grab().save(str(path))
                    pictures.append(path)
                window.close()
                window.deleteLater()
    _contact_sheet(pictures, folder / "all.png")


def _contact_sheet(pictures: list[Path], path: Path) -> None:
    across, thumb = 4, (640, 400)
    down = -(-len(pictures) // across)
    sheet = Image.new("RGB", (across * thumb[0], down * thumb[1]), "white")
    for number, picture in enumerate(pictures):
        with Image.open(picture) as image:
            image.thumbnail(thumb)
            sheet.paste(image, (number % across * thumb[0], number // across * thumb[1]))
    sheet.save(path)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
