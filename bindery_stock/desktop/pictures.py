"""Pillow pictures as Qt pictures. QImage may be used in any thread; QPixmap may not."""

from PIL import Image
from PySide6.QtGui import QImage


def qimage(picture: Image.Image) -> QImage:
    """The same picture for Qt, with its own copy of the pixels."""
    if picture.mode == "RGBA":
        image = QImage(
            picture.tobytes(), picture.width, picture.height, QImage.Format.Format_RGBA8888
        )
        return image.convertToFormat(QImage.Format.Format_ARGB32_Premultiplied)
    rgb = picture.convert("RGB")
    stride = 3 * rgb.width
    image = QImage(rgb.tobytes(), rgb.width, rgb.height, stride, QImage.Format.Format_RGB888)
    return image.copy()
