"""Fixtures for the windows: a session on a real stock folder, and a photograph of cloth."""

from collections.abc import Iterator
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from PySide6.QtCore import QCoreApplication, QEvent, QThreadPool
from PySide6.QtWidgets import QApplication

from bindery_stock.desktop.look import Scheme, dress
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.settings import Settings
from bindery_stock.stock import Stockroom
from bindery_stock.units import Unit
from tests.desktop.patient_bot import PatientBot

CLOTH_RGB = (132, 42, 38)
MAT_RGB = (150, 150, 150)
MM_PER_PX = 0.25


@pytest.fixture
def qtbot(qapp: QApplication, request: pytest.FixtureRequest) -> PatientBot:
    """Hands for the windows that wait as long as a busy machine needs."""
    return PatientBot(request)


@pytest.fixture(autouse=True)
def _no_window_left(qapp: QApplication) -> Iterator[None]:
    """Windows a test has closed are really gone before the next, and none is left open."""
    yield
    # The offscreen clipboard is torn down after Python: it must hold nothing of Python's then.
    qapp.clipboard().clear()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    left = [w for w in qapp.topLevelWidgets() if w.isVisible()]
    assert left == []


@pytest.fixture
def session(qapp: QApplication, tmp_path: Path) -> Iterator[Session]:
    """A session on a fresh, empty stockroom, in millimetres and the light palette."""
    dress(qapp, Scheme.LIGHT)
    settings = Settings(tmp_path / "desktop.ini")
    settings.unit = Unit.MM
    settings.set_text("photo_table/scale", "ruler")  # a line is quicker to draw in a test
    made = Session(settings)
    made.use(Stockroom.create(tmp_path / "stock"))
    yield made
    made.close_stockroom()
    assert QThreadPool.globalInstance().activeThreadCount() == 0


@pytest.fixture
def previews(session: Session) -> Previews:
    """Pictures of pieces for this session."""
    return Previews(session)


@pytest.fixture
def photo_of_cloth(tmp_path: Path) -> Path:
    """A red scrap of 200 × 250 mm on a grey mat at 4 px to the mm, with a weave one can see.

    The scrap's top left corner is at pixel (100, 80); the picture is 1100 × 1200 pixels.
    """
    return paint_cloth(tmp_path / "scrap.png", CLOTH_RGB)


def paint_cloth(
    path: Path, rgb: tuple[int, int, int], size_mm: tuple[int, int] = (200, 250)
) -> Path:
    """Paint a woven rectangle on a grey mat and save it."""
    path.write_bytes(_painted(rgb, size_mm))
    return path


@cache
def _painted(rgb: tuple[int, int, int], size_mm: tuple[int, int]) -> bytes:
    """The same each time, so it is painted once."""
    rng = np.random.default_rng(7)
    picture = np.empty((1200, 1100, 3))
    picture[:] = MAT_RGB
    height, width = (round(mm / MM_PER_PX) for mm in reversed(size_mm))
    rows, columns = np.mgrid[0:height, 0:width]
    weave = np.where((rows // 2 + columns // 2) % 2 == 0, 6.0, -6.0)
    cloth = np.array(rgb, dtype=float) + weave[..., None]
    picture[80 : 80 + height, 100 : 100 + width] = cloth
    picture += rng.normal(0.0, 2.0, picture.shape)
    file = BytesIO()
    Image.fromarray(np.clip(picture, 0, 255).astype(np.uint8)).save(file, "PNG")
    return file.getvalue()
