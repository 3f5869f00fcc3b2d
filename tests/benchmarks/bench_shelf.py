"""How long the shelf takes over a hoard of thousands: laying, finding, one frame, sorting.

``python tests/benchmarks/bench_shelf.py [pieces]`` prints milliseconds, and each frame as a ratio
to Qt's own graphics view over the same outlines, measured in the same run.
"""

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QApplication, QGraphicsScene, QGraphicsView

from bindery_stock.bench.shelf.search import Catalogue, Looking, Order, PieceGroup, arrange
from bindery_stock.desktop.drawn_shapes import cosmetic, outline_path, plain_fill
from bindery_stock.desktop.look import Scheme, dress, grey
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import Settings
from bindery_stock.desktop.shelf.choice import ChosenPieces
from bindery_stock.desktop.shelf.hoard_view import HoardView
from bindery_stock.desktop.shelf.table_model import PieceTableModel, ShelfColumn
from bindery_stock.desktop.shelf.table_view import PieceTable
from bindery_stock.desktop.shelf.thumbnails import Thumbnails
from bindery_stock.shape import Outline
from bindery_stock.stock import Colour, PieceState, StockPiece
from bindery_stock.trade.vocabulary import PATTERNS, Kind

VIEW = (1400, 900)
RUNS = 9


def hoard(count: int) -> list[StockPiece]:
    """Scraps of twenty corners in every colour."""
    rng = np.random.default_rng(11)
    angles = np.linspace(0, 2 * np.pi, 20, endpoint=False)
    made = []
    for number in range(1, count + 1):
        radii = rng.uniform(0.8, 1.0, 20) * rng.uniform(30, 140)
        ring = tuple(
            (float(r * np.cos(a)), float(r * np.sin(a))) for r, a in zip(radii, angles, strict=True)
        )
        lab = (rng.uniform(15, 85), rng.uniform(-40, 45), rng.uniform(-35, 45))
        made.append(
            StockPiece(
                id=number,
                code=f"C-{number:04}",
                kind=Kind.CLOTH,
                state=PieceState.ON_SHELF,
                shelved_at=datetime(2026, 1, 1, tzinfo=UTC),
                outline=Outline(ring),
                colours=(Colour(tuple(map(float, lab))),),
                pattern=PATTERNS[number % len(PATTERNS)],
                place=f"Tin {number % 40}",
                note="a scrap of no account",
            )
        )
    return made


def median_ms(work: Callable[[], object], runs: int = RUNS) -> float:
    """The middle of several runs."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def laid(view: HoardView, groups: list[PieceGroup], app: QApplication) -> tuple[float, float]:
    """Lay the hoard: milliseconds for which the window is held, and until everything lies."""
    start = time.perf_counter()
    view.show_groups(groups)
    held = time.perf_counter() - start
    while view.is_laying:
        app.processEvents()
    return held * 1000, (time.perf_counter() - start) * 1000


def frame(view: HoardView | QGraphicsView, onto: QPixmap) -> None:
    """Paint what is in view once."""
    view.viewport().render(onto)


def settle(view: HoardView, onto: QPixmap) -> int:
    """Paint frames until every piece stands as it should; returns how many it took."""
    frames = 1
    frame(view, onto)
    while view.is_painting and frames < 2000:
        frame(view, onto)
        frames += 1
    return frames


def graphics_view(pieces: list[StockPiece], view: HoardView) -> QGraphicsView:
    """The same outlines at the same places as items of a graphics scene."""
    other = QGraphicsView()
    scene = QGraphicsScene(other)
    for piece in pieces:
        spot = view.laid.spots[piece.id]
        path = outline_path(piece.outline)
        item = scene.addPath(path, cosmetic(grey(25), 1.0), plain_fill(piece))
        item.setPos(spot.x - path.boundingRect().x(), spot.y - path.boundingRect().y())
    other.setScene(scene)
    other.setRenderHint(QPainter.RenderHint.Antialiasing)
    other.resize(*VIEW)
    other.scale(view.scale, view.scale)
    other.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    other.show()
    return other


def say(what: str, ms: float, note: str = "") -> None:
    sys.stdout.write(f"{what:<44}{ms:9.1f} ms   {note}\n")


def main(count: int) -> None:
    """Measure and print."""
    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    dress(app, Scheme.LIGHT)
    folder = Path(tempfile.mkdtemp())
    session = Session(Settings(folder / "desktop.ini"))
    previews, choice = Previews(session), ChosenPieces()
    view = HoardView(session, previews, choice)
    view.resize(*VIEW)
    view.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    view.show()
    pieces, catalogue = hoard(count), Catalogue()
    catalogue.look(pieces, Looking(words="rib"))
    say("find by two words", median_ms(lambda: catalogue.look(pieces, Looking(words="rib tin"))))
    say("arrange by colour", median_ms(lambda: arrange(pieces, Order.COLOUR, catalogue.family)))
    groups = arrange(pieces, Order.COLOUR)
    held = [laid(view, groups, app) for _ in range(5)]
    say("lay the hoard: the window is held", statistics.median(one for one, _ in held))
    say("lay the hoard: until it lies", statistics.median(whole for _, whole in held))
    onto = QPixmap(*VIEW)
    start = time.perf_counter()
    frames = settle(view, onto)
    took = (time.perf_counter() - start) * 1000
    say("paint the whole hoard anew", took, f"in {frames} frames of {took / frames:.1f} ms")
    other = graphics_view(pieces, view)
    reference = median_ms(lambda: frame(other, onto))
    whole = median_ms(lambda: frame(view, onto))
    say("one frame, whole hoard", whole, f"{whole / reference:.2f} × a graphics view")
    for scale in (0.3, 1.0, 4.0):
        view.zoom(scale / view.scale)
        first = median_ms(lambda: frame(view, onto), 1)
        settle(view, onto)
        frames_ms = median_ms(lambda: frame(view, onto))
        say(f"one frame at {scale:g} px/mm", frames_ms, f"first after zooming {first:.1f} ms")
    model = PieceTableModel(session, Thumbnails(previews, app), app)
    table = PieceTable(session, model, choice)
    say("fill the table", median_ms(lambda: table.show_pieces(pieces), 1))
    order = Qt.SortOrder
    say(
        "sort the table by place",
        median_ms(lambda: table.sortByColumn(ShelfColumn.PLACE, order(1)), 1),
    )
    some = pieces[: count // 3]
    say("show a third of the rows", median_ms(lambda: table.show_pieces(some), 1))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5000)
