"""Where the tags of a line-up stand: beside their outlines, clear of the others."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSizeF

_ON_TAG, _ON_OTHER, _ON_OWN = 20.0, 3.0, 1.0
"""What it costs for each pixel to lie on another tag, another outline and its own."""
_GAP = 4.0


def tag_places(
    outlines: Sequence[QRectF], tags: Sequence[QSizeF], room: QRectF
) -> tuple[QPointF, ...]:
    """The upper left corner of each tag, all in pixels of the window.

    Of below, above, right, left and the middle of its outline the place that hides the least,
    kept inside ``room``.
    """
    placed: list[QRectF] = []
    for number, (box, size) in enumerate(zip(outlines, tags, strict=True)):
        others = [other for n, other in enumerate(outlines) if n != number]
        spots = [_kept_in(QRectF(spot, size), room) for spot in _spots(box, size)]
        placed.append(min(spots, key=lambda spot: _cost(spot, box, others, placed)))
    return tuple(place.topLeft() for place in placed)


def _spots(box: QRectF, size: QSizeF) -> tuple[QPointF, ...]:
    wide, high = size.width(), size.height()
    middle = box.center()
    across, down = middle.x() - wide / 2, middle.y() - high / 2
    return (
        QPointF(across, box.bottom() + _GAP),
        QPointF(across, box.top() - high - _GAP),
        QPointF(box.right() + _GAP, down),
        QPointF(box.left() - wide - _GAP, down),
        QPointF(across, box.bottom() - high),
        QPointF(across, box.top()),
        QPointF(across, down),
    )


def _kept_in(spot: QRectF, room: QRectF) -> QRectF:
    x = min(max(spot.left(), room.left()), max(room.right() - spot.width(), room.left()))
    y = min(max(spot.top(), room.top()), max(room.bottom() - spot.height(), room.top()))
    return QRectF(QPointF(x, y), spot.size())


def _cost(spot: QRectF, own: QRectF, others: Sequence[QRectF], tags: Sequence[QRectF]) -> float:
    return (
        _ON_TAG * sum(_common(spot, tag) for tag in tags)
        + _ON_OTHER * sum(_common(spot, other) for other in others)
        + _ON_OWN * _common(spot, own)
    )


def _common(one: QRectF, other: QRectF) -> float:
    both = one.intersected(other)
    return max(both.width(), 0.0) * max(both.height(), 0.0)
