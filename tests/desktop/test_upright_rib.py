"""An upright rib stays upright, or plain, however small its picture is made.

Sampling theory (C. E. Shannon, 1949): what varies faster than twice a pixel must be left out before
a picture is made smaller, or it comes back as a slower pattern in another direction.
"""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QImage, QPainter, QPixmap
from pytestqt.qtbot import QtBot

from bindery_stock.bench.shelf.flat_photo import flatten
from bindery_stock.desktop.drawn_shapes import bounds_rect, paint_scrap
from bindery_stock.desktop.pictures import qimage, reduced
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.sprites import Sprites
from tests.desktop.shelving import box, shelve_cloth

SHARP = 8.0  # px/mm of the photograph
SIDE = 90  # mm
RIBS = 0.87  # of them a mm
SWING = 60.0  # codes between the middle and the crest of a rib
TURN = 1.2  # degrees by which the scrap lies askew
TO_MM = (1 / SHARP, 0.0, -5.0, 0.0, -1 / SHARP, SIDE + 5.0, 0.0, 0.0, 1.0)


def ribbed(px_per_mm: float, side: float = SIDE + 10) -> Image.Image:
    """Cloth with an upright rib a little askew, as a camera would see it."""
    n = round(side * px_per_mm)
    y, x = np.mgrid[0:n, 0:n] / px_per_mm
    across = x * np.cos(np.radians(TURN)) + y * np.sin(np.radians(TURN))
    cloth = 128 + SWING * np.sin(2 * np.pi * RIBS * across)
    return Image.fromarray(cloth.astype(np.uint8)).convert("RGB")


def slow_swing(picture: np.ndarray, slower_than: float = 0.4) -> float:
    """The strongest slow wave of a picture, in codes; ``slower_than`` is in waves a pixel."""
    middle = picture[4:-4, 4:-4].astype(float)
    middle -= middle.mean()
    window = np.outer(np.hanning(middle.shape[0]), np.hanning(middle.shape[1]))
    waves = np.abs(np.fft.fft2(middle * window)) * 2 / window.sum()
    v, u = (np.fft.fftfreq(n) for n in middle.shape)
    slow = np.hypot(*np.meshgrid(u, v)) < slower_than
    return float(waves[slow].max())


def grey_of(image: QImage) -> np.ndarray:
    plain = image.convertToFormat(QImage.Format.Format_Grayscale8)
    flat = np.frombuffer(plain.constBits(), np.uint8)
    return flat.reshape(plain.height(), plain.bytesPerLine())[:, : plain.width()].copy()


@pytest.mark.parametrize("px_per_mm", [0.5, 0.7, 1.0])
def test_a_rib_too_fine_for_the_picture_lies_plain(tmp_path: Path, px_per_mm: float) -> None:
    photo = tmp_path / "rib.png"
    ribbed(SHARP).save(photo)
    n = round((SIDE + 10) * SHARP)
    flat = flatten(photo, (n, n), TO_MM, box(SIDE, SIDE), px_per_mm)
    assert slow_swing(np.asarray(flat.convert("L"))) < 0.05 * SWING


def test_a_rib_the_picture_can_hold_stands_upright(tmp_path: Path) -> None:
    photo = tmp_path / "rib.png"
    ribbed(SHARP).save(photo)
    n = round((SIDE + 10) * SHARP)
    flat = np.asarray(flatten(photo, (n, n), TO_MM, box(SIDE, SIDE), 4.0).convert("L"))
    middle = flat[8:-8, 8:-8].astype(float)
    waves = np.abs(np.fft.fft2(middle - middle.mean()))
    row, column = np.unravel_index(waves.argmax(), waves.shape)
    along, across = np.fft.fftfreq(waves.shape[0])[row], np.fft.fftfreq(waves.shape[1])[column]
    assert abs(across) * 4.0 == pytest.approx(RIBS, abs=0.02)
    assert abs(along) * 4.0 < 0.05


@pytest.mark.parametrize("zoom", [0.21, 0.5, 0.55, 0.8])
def test_a_picture_made_smaller_gains_no_pattern(zoom: float) -> None:
    sharp = qimage(ribbed(2.0))
    small = reduced(sharp, sharp.size() * (zoom / 2.0))
    assert small.width() == round(sharp.width() * zoom / 2.0)
    assert slow_swing(grey_of(small)) < 0.05 * SWING
    assert grey_of(small)[4:-4, 4:-4].mean() == pytest.approx(128, abs=2)


def test_a_picture_that_is_small_enough_is_left_alone() -> None:
    sharp = qimage(ribbed(1.0, 20))
    assert reduced(sharp, QSize(400, 400)) is sharp


@pytest.mark.parametrize("zoom", [0.3, 0.55, 0.8, 1.0])
def test_the_hoard_and_the_candidates_show_no_twill_in_a_rib(
    qtbot: QtBot, session: Session, tmp_path: Path, zoom: float
) -> None:
    photo = tmp_path / "rib.png"
    ribbed(4.0, 275).save(photo)
    shelve_cloth(session, photo)
    (piece,) = session.pieces
    previews = Previews(session)
    with qtbot.waitSignal(previews.ready):
        previews.image(piece, zoom)
    image = previews.image(piece, zoom)
    assert image is not None
    bounds = bounds_rect(piece.outline)
    place = QRectF(0, 0, bounds.width() * zoom, bounds.height() * zoom)
    hoard = QPixmap(place.size().toSize())
    sprites = Sprites(previews)
    sprites.begin_frame()
    painter = QPainter(hoard)
    assert sprites.paint(painter, piece, place, zoom)
    painter.end()
    candidate = QImage(hoard.size(), QImage.Format.Format_RGB32)
    painter = QPainter(candidate)
    painter.scale(zoom, zoom)
    painter.translate(-bounds.topLeft())
    paint_scrap(painter, piece, image)
    painter.end()
    for seen in (hoard.toImage(), candidate):
        assert slow_swing(grey_of(seen)) < 0.08 * SWING
