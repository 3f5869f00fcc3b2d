"""Drawing rings: an outline, a colour patch, flaws."""

from enum import Enum, auto

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from bindery_stock.bench.photo_table.marks import crosses_itself
from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.look import grey
from bindery_stock.desktop.photo_canvas import rings
from bindery_stock.desktop.photo_canvas.tool import (
    Tool,
    handle,
    label,
    near,
    nudge,
    polygon,
    stroke,
)
from bindery_stock.shape import Point, Ring

_APART = 20.0
"""Screen pixels between points from which they are drawn at full size."""


class _Stroke(Enum):
    NONE = auto()
    NEW = auto()
    POINT = auto()
    RING = auto()


class RingTool(Tool):
    """Rings drawn as rectangles by dragging, or corner by corner by clicking.

    A drag that begins inside a ring moves it; points can be dragged, put in (double click on a
    side, or Insert) and taken out (Delete). With ``single`` a new ring takes the place of the old.
    ``texts`` stand beside the rings.
    """

    def __init__(self, hint: str, *, single: bool) -> None:
        """Begin with no ring."""
        super().__init__()
        self.hint = hint
        self.texts: tuple[str, ...] = ()
        self.suggested: tuple[Ring, ...] = ()
        self.asked: tuple[Ring, ...] = ()
        """Drawn in dashes: suggested while the tool is active, asked about in any case."""
        self._single = single
        self._rings: tuple[Ring, ...] = ()
        self._before: tuple[Ring, ...] = ()
        self._open: tuple[Point, ...] = ()
        self._pointer: Point | None = None
        self._ring: int | None = None
        self._point: int | None = None
        self._stroke = _Stroke.NONE
        self._from: Point = (0.0, 0.0)
        self._reach = 0.0

    @property
    def rings(self) -> tuple[Ring, ...]:
        """The rings, closed ones only."""
        return self._rings

    @property
    def chosen(self) -> int | None:
        """Which ring is chosen."""
        return self._ring

    @property
    def is_open(self) -> bool:
        """Whether a ring is being drawn corner by corner."""
        return bool(self._open)

    def has_point(self, at: Point, reach: float) -> bool:
        """Whether a point of one of the rings lies within reach."""
        return any(near(point, at, reach) for ring in self._rings for point in ring)

    def show_rings(self, shown: tuple[Ring, ...], texts: tuple[str, ...] = ()) -> None:
        """Show these rings from now on; one being drawn corner by corner stays."""
        self.texts = texts
        self._rings = shown
        if self._ring is not None and self._ring >= len(shown):
            self._ring = self._point = None
        if self._ring is not None and self._point is not None:
            self._point = min(self._point, len(shown[self._ring]) - 1)

    def forget(self) -> None:
        """Another photograph is on the table: nothing is chosen or half drawn."""
        self._open, self._pointer = (), None
        self._ring = self._point = None

    def press(self, at: Point, reach: float) -> None:
        """Set a corner, take hold of a point or a ring, or begin a new one."""
        self._before, self._from, self._reach = self._rings, at, reach
        if self._open:
            self._set_corner(at, reach)
            return
        self._ring, self._point = self._hit(at, reach)
        if self._point is not None:
            self._stroke = _Stroke.POINT
        elif self._ring is not None:
            self._stroke = _Stroke.RING
        else:
            self._stroke = _Stroke.NEW
        self.moved.emit()

    def drag(self, at: Point) -> None:
        """Bring the point or the ring along, or stretch the new rectangle."""
        if self._stroke is _Stroke.POINT:
            self._put_point(at)
        elif self._stroke is _Stroke.RING and self._ring is not None:
            dx, dy = at[0] - self._from[0], at[1] - self._from[1]
            self._put_ring(self._ring, rings.moved(self._before[self._ring], dx, dy))
        elif self._stroke is _Stroke.NEW and not near(at, self._from, self._reach):
            self._add(rings.rectangle(self._from, at))
        self.moved.emit()

    def hover(self, at: Point) -> None:
        """Stretch the side that is being drawn."""
        if self._open:
            self._pointer = at
            self.moved.emit()

    def release(self) -> None:
        """Let go: a click without a drag sets the first corner of a new ring."""
        done, self._stroke = self._stroke, _Stroke.NONE
        if done is _Stroke.NEW and self._rings == self._before:
            self._open, self._pointer = (self._from,), self._from
            self.moved.emit()
        elif done is not _Stroke.NONE and self._rings != self._before:
            self.marked.emit()

    def double_click(self, at: Point, reach: float) -> None:
        """Close the ring being drawn, or put a point into the side under the pointer."""
        if len(self._open) > 1:
            self._close()
            return
        self._open = ()
        found = rings.side_at(self._rings, at, reach)
        if found is not None:
            self._insert(*found, at)

    def key(self, key: Qt.Key, reach: float) -> bool:
        """Enter closes, Esc drops, Delete takes out, Insert puts in, arrows move, “.” goes on."""
        if self._open:
            return self._key_while_open(key)
        if key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            return self._take_out()
        if key == Qt.Key.Key_Period:
            return self._choose_next()
        if key == Qt.Key.Key_Insert and self._ring is not None and self._point is not None:
            ring = self._rings[self._ring]
            (x0, y0), (x1, y1) = ring[self._point], ring[(self._point + 1) % len(ring)]
            self._insert(self._ring, self._point, ((x0 + x1) / 2, (y0 + y1) / 2))
            return True
        way = nudge(key)
        if way is None or self._ring is None:
            return False
        self._nudge(way, reach / 8)
        return True

    def take_back(self) -> None:
        """Take back the last corner of the ring being drawn."""
        self._open = self._open[:-1]
        self.moved.emit()

    def begin(self, area: QRectF) -> None:
        """A rectangle of a third of what is seen, in its middle."""
        corner = QPointF(area.width(), area.height()) / 6
        low, high = area.center() - corner, area.center() + corner
        self._before = self._rings
        self._add(rings.rectangle((low.x(), low.y()), (high.x(), high.y())))
        self.marked.emit()

    def paint(self, painter: QPainter, px: float, *, active: bool) -> None:
        """The rings, their words, their points while active, and the ring being drawn."""
        for place, ring in enumerate(self._rings):
            stroke(painter, polygon(ring), closed=True, active=active)
            if active and crosses_itself(ring):
                painter.setPen(cosmetic(grey(8), 2.5, Qt.PenStyle.DashLine))
                painter.drawPolygon(polygon(ring))
            if active:
                self._paint_points(painter, place, px)
            if active and place < len(self.texts) and self.texts[place]:
                label(painter, max(ring, key=lambda p: p[0] + p[1]), self.texts[place])
        for ring in (*self.asked, *(self.suggested if active else ())):
            stroke(painter, polygon(ring), closed=True, active=False)
            painter.setPen(cosmetic(grey(8), 2.0, Qt.PenStyle.DashLine))
            painter.drawPolygon(polygon(ring))
        if active and self._open:
            corners = self._open + ((self._pointer,) if self._pointer else ())
            stroke(painter, QPolygonF([QPointF(*p) for p in corners]), closed=False, active=True)
            for index, point in enumerate(self._open):
                handle(painter, point, px, chosen=index == 0)

    def _paint_points(self, painter: QPainter, place: int, px: float) -> None:
        """The points of a ring; small where they would touch each other at this zoom."""
        ring = self._rings[place]
        crowded = polygon(ring).boundingRect()
        around = 2 * (crowded.width() + crowded.height())
        size = 1.0 if around > len(ring) * _APART * px else 0.5
        for index, point in enumerate(ring):
            chosen = (place, index) == (self._ring, self._point)
            handle(painter, point, px * (1.0 if chosen else size), chosen=chosen)

    def _key_while_open(self, key: Qt.Key) -> bool:
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._close()
        elif key == Qt.Key.Key_Escape:
            self._open = ()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.take_back()
        else:
            return False
        self.moved.emit()
        return True

    def _set_corner(self, at: Point, reach: float) -> None:
        if len(self._open) >= 3 and near(at, self._open[0], reach):
            self._close()
        elif not near(at, self._open[-1], reach / 2):
            self._open = (*self._open, at)
            self.moved.emit()

    def _close(self) -> None:
        if len(self._open) < 3:
            return
        ring, self._open, self._pointer = self._open, (), None
        self._before = self._rings
        self._add(ring)
        self.marked.emit()

    def _add(self, ring: Ring) -> None:
        kept = () if self._single else self._before
        self._rings = (*kept, ring)
        self._ring, self._point = len(kept), None

    def _put_ring(self, place: int, ring: Ring) -> None:
        self._rings = rings.with_ring(self._rings, place, ring)

    def _put_point(self, at: Point) -> None:
        if self._ring is not None and self._point is not None:
            ring = self._rings[self._ring]
            self._put_ring(self._ring, rings.with_point(ring, self._point, at))

    def _insert(self, place: int, side: int, at: Point) -> None:
        ring = self._rings[place]
        self._put_ring(place, rings.with_point_after(ring, side, at))
        self._ring, self._point = place, side + 1
        self.marked.emit()

    def _take_out(self) -> bool:
        if self._ring is None:
            if len(self._rings) != 1:
                return False
            self._ring = 0
        ring = self._rings[self._ring]
        if self._point is not None and len(ring) > 3:
            self._put_ring(self._ring, rings.without_point(ring, self._point))
            self._point = min(self._point, len(ring) - 2)
        else:
            self._rings = rings.without_ring(self._rings, self._ring)
            self._ring = self._point = None
        self.marked.emit()
        return True

    def _choose_next(self) -> bool:
        following = rings.point_after(self._rings, (self._ring, self._point))
        if following is None:
            return False
        self._ring, self._point = following
        self.moved.emit()
        return True

    def _nudge(self, way: Point, unit: float) -> None:
        dx, dy = way[0] * unit, way[1] * unit
        if self._ring is None:
            return
        ring = self._rings[self._ring]
        if self._point is None:
            self._put_ring(self._ring, rings.moved(ring, dx, dy))
        else:
            x, y = ring[self._point]
            self._put_point((x + dx, y + dy))
        self.marked.emit()

    def _hit(self, at: Point, reach: float) -> tuple[int | None, int | None]:
        """The point within reach, else the ring around, the last drawn first."""
        for place in range(len(self._rings) - 1, -1, -1):
            for index, point in enumerate(self._rings[place]):
                if near(point, at, reach):
                    return place, index
        for place in range(len(self._rings) - 1, -1, -1):
            if polygon(self._rings[place]).containsPoint(QPointF(*at), Qt.FillRule.OddEvenFill):
                return place, None
        side = rings.side_at(self._rings, at, reach)
        return (None if side is None else side[0]), None
