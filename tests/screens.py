"""Pictures of every place, to be looked at: ``python -m tests.screens FOLDER``.

Needs a display (``xvfb-run`` will do). Saves each place in both palettes at 1280 × 800 and
1920 × 1080, one file each, and a contact sheet of all. ``--stock`` chooses what is in the
stockroom: the working copy of the sample, nothing, or a few things with very long names.
``--scale 2`` shows what a display of twice the density does, at 1280 × 800 only. ``--scheme`` and
``--width`` keep to one palette and one size; ``--only match`` to the scenes whose names begin so.
"""

import argparse
import os
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from bindery_stock.desktop.app import build
from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.sample import fresh_copy, open_working_copy
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import Settings
from bindery_stock.desktop.window import Window
from bindery_stock.stock import Stockroom
from bindery_stock.units import Unit
from tests.scenes import at_work, enter_long_names, every_place, with_long_names

SIZES = {1280: 800, 1920: 1080}
SETTLE_MS = 400
LONGEST_MS = 12_000
SCENES = {"sample": at_work, "empty": every_place, "long": with_long_names}


@dataclass(frozen=True)
class Wish:
    """Which pictures are wanted."""

    folder: Path
    stock: str
    only: str
    schemes: tuple[Scheme, ...]
    widths: tuple[int, ...]


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


def stockroom(stock: str, home: Path) -> Stockroom:
    """The stockroom the pictures show."""
    if stock == "sample":
        return open_working_copy(fresh_copy(home), home)
    room = Stockroom.create(home / "My stockroom")
    if stock == "long":
        enter_long_names(room)
    return room


def pictures(wish: Wish, app: QApplication) -> Iterator[Path]:
    """Save every picture, and say where."""
    for scheme in wish.schemes:
        for width in wish.widths:
            with tempfile.TemporaryDirectory() as home:
                os.environ["BINDERY_STOCK_HOME"] = home
                dress(app, scheme)
                settings = Settings()
                settings.unit = Unit.MM
                session = Session(settings)
                window, _desk = build(session)
                session.use(stockroom(wish.stock, Path(home)))
                window.resize(width, SIZES[width])
                window.show()
                for name, show in SCENES[wish.stock](window, session, Path(home)):
                    show()
                    settle(session)
                    front, dialog = _in_front(window)
                    if name.startswith(wish.only):
                        path = wish.folder / f"{name}-{scheme.value}-{width}.png"
                        front.grab().save(str(path))
                        yield path
                    if dialog is not None:
                        dialog.reject()
                window.close()
                window.deleteLater()


def _in_front(window: Window) -> tuple[QWidget, QDialog | None]:
    """What is to be seen: the dialog that is open, else the window."""
    dialog = QApplication.activeModalWidget()
    return (dialog, dialog) if isinstance(dialog, QDialog) else (window, None)


def _contact_sheet(pictures: list[Path], path: Path) -> None:
    across, thumb = 4, (640, 400)
    down = -(-len(pictures) // across)
    sheet = Image.new("RGB", (across * thumb[0], down * thumb[1]), "white")
    for number, picture in enumerate(pictures):
        with Image.open(picture) as image:
            image.thumbnail(thumb)
            sheet.paste(image, (number % across * thumb[0], number // across * thumb[1]))
    sheet.save(path)


def main() -> None:
    """Read what is wanted and take the pictures."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", type=Path)
    asked.add_argument("--stock", choices=list(SCENES), default="sample")
    asked.add_argument("--scale", default="1")
    asked.add_argument("--scheme", choices=[Scheme.LIGHT, Scheme.DARK])
    asked.add_argument("--width", type=int, choices=list(SIZES))
    asked.add_argument("--only", default="")
    given = asked.parse_args()
    os.environ["QT_SCALE_FACTOR"] = given.scale
    plain = given.scale == "1"
    wish = Wish(
        given.folder,
        given.stock,
        given.only,
        (Scheme(given.scheme),) if given.scheme else (Scheme.LIGHT, Scheme.DARK),
        (given.width,) if given.width else tuple(SIZES) if plain else (1280,),
    )
    given.folder.mkdir(parents=True, exist_ok=True)
    _contact_sheet(list(pictures(wish, QApplication([]))), given.folder / "all.png")


if __name__ == "__main__":
    main()
