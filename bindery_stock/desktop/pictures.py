"""Pillow pictures as Qt pictures. QImage may be used in any thread; QPixmap may not."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from PySide6.QtCore import QSize
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


def reduced(image: QImage, size: QSize) -> QImage:
    """The picture no larger than ``size`` pixels each way, its fine weave averaged.

    A painter that makes a picture smaller looks at four of its pixels for each of its own: out of
    an upright rib it makes a twill. What is not larger comes back as it is.
    """
    width, height = (max(1, n) for n in (size.width(), size.height()))
    if image.isNull() or (image.width() <= width and image.height() <= height):
        return image
    plain = image.convertToFormat(QImage.Format.Format_RGBA8888)
    picture = Image.frombuffer(
        "RGBA", (plain.width(), plain.height()), bytes(plain.constBits()), "raw", "RGBA", 0, 1
    )
    wanted = (min(width, plain.width()), min(height, plain.height()))
    return qimage(picture.resize(wanted, Image.Resampling.LANCZOS))


def codes_of(image: QImage) -> NDArray[np.uint8]:
    """The sRGB codes of a picture, rows × columns × 3, with their own memory."""
    plain = image.convertToFormat(QImage.Format.Format_RGBA8888)
    shape = plain.height(), plain.width(), 4
    return np.frombuffer(plain.constBits(), np.uint8).reshape(shape)[..., :3].copy()
