"""Our own line icons, in one weight, drawn in the text's grey of the palette in use."""

from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QIcon, QImage, QPainter, QPixmap

from bindery_stock import places
from bindery_stock.desktop.look import grey, greys

_SIZES = (20, 40, 60)


def icon(name: str) -> QIcon:
    """The icon ``resources/icons/<name>.svg`` in the text's grey."""
    from PySide6.QtSvg import QSvgRenderer  # noqa: PLC0415 - its plugin library loads on first use

    source = (places.resources() / "icons" / f"{name}.svg").read_text(encoding="utf-8")
    inked = source.replace("currentColor", grey(greys().text).name())
    renderer = QSvgRenderer(QByteArray(inked.encode()))
    made = QIcon()
    for size in _SIZES:
        image = QImage(size, size, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        renderer.render(painter)
        painter.end()
        made.addPixmap(QPixmap.fromImage(image))
    return made
