"""The opened case drawn to scale: boards and spine, damage, and the parts that mend it."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QMouseEvent, QPainter, QPainterPath, QPaintEvent, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget
from shapely import Point, Polygon

from bindery_stock.bench.books.case import Case, CaseMark, case_of, damage_marks, ring_on_case
from bindery_stock.desktop.books.cloth import fill_with_cloth
from bindery_stock.desktop.drawn_shapes import (
    cosmetic,
    fitted,
    lab_colour,
    nice_step,
    ring_polygon,
    surround,
)
from bindery_stock.desktop.look import GRID, grey
from bindery_stock.desktop.previews import Previews
from bindery_stock.shape import Ring
from bindery_stock.stock import BookPart, BookSpot, NewPart, NewRepair, StockPiece
from bindery_stock.trade import Allowances, Harm, Rules
from bindery_stock.units import LengthStyle

_BOARD_L, _SPINE_L = 62.0, 58.0
"""L* of boards and spine whose colour was not read."""
_ROUND = 26.0  # mm kept around the case for turn-ins
_DAMAGE_BRUSH = {
    Harm.SPINE_LOST: Qt.BrushStyle.DiagCrossPattern,
    Harm.HEAD_LOST: Qt.BrushStyle.DiagCrossPattern,
    Harm.TAIL_LOST: Qt.BrushStyle.DiagCrossPattern,
    Harm.CORNERS_BARE: Qt.BrushStyle.DiagCrossPattern,
    Harm.BOARDS_LOST: Qt.BrushStyle.DiagCrossPattern,
    Harm.CASE_LOST: Qt.BrushStyle.DiagCrossPattern,
}


class CaseView(QWidget):
    """Seen from outside, head up, front board at the right.

    Emits ``part_chosen(object)`` with the key of the part that was clicked. The chosen part is
    drawn firm, filled with its cloth where it has some, and its size stands beside it.
    """

    part_chosen = Signal(object)

    def __init__(self, previews: Previews, lengths: LengthStyle) -> None:
        """Begin with nothing to draw."""
        super().__init__()
        self._previews = previews
        self.lengths = lengths
        self.case: Case | None = None
        self._repair: NewRepair | None = None
        self._marks: list[CaseMark] = []
        self._parts: list[NewPart] = []
        self._rings: list[tuple[NewPart, Ring]] = []
        self._pieces: dict[tuple[str, str, int], StockPiece] = {}
        self.chosen: tuple[str, str, int] | None = None
        self.setMinimumSize(GRID * 70, GRID * 50)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("The opened case, drawn to scale")
        self.setMouseTracking(True)
        previews.ready.connect(self._picture_ready)

    def sizeHint(self) -> QSize:
        """Broad, as an opened case is."""
        return QSize(GRID * 170, GRID * 120)

    def _picture_ready(self, _code: str) -> None:
        self.update()

    def show_volume(
        self,
        repair: NewRepair | None,
        parts: list[NewPart],
        allowances: Allowances,
        rules: Rules,
        pieces: dict[tuple[str, str, int], StockPiece],
    ) -> None:
        """Draw a volume with its parts; ``pieces`` are those whose cloth is known, by key."""
        self._repair, self._parts, self._pieces = repair, parts, pieces
        self.case = None if repair is None else case_of(repair.survey, allowances, rules)
        self._marks, self._rings = [], []
        if repair is not None and self.case is not None:
            self._marks = damage_marks(repair.survey, self.case)
            placed = [(part, ring_on_case(part, self.case)) for part in parts]
            self._rings = [(part, ring) for part, ring in placed if ring is not None]
            # The largest lie lowest, so that a click finds the smallest.
            self._rings.sort(key=lambda one: -Polygon(one[1]).area)
        self.setAccessibleDescription(
            ", ".join(mark.words for mark in self._marks) or "no damage on the outside"
        )
        self.update()

    def choose(self, key: tuple[str, str, int] | None) -> None:
        """Draw this part firm."""
        self.chosen = key
        self.update()

    # Drawing

    def _transform(self) -> QTransform:
        if self.case is None:
            return QTransform()
        scene = QRectF(
            -_ROUND,
            -self.case.board_height - _ROUND,
            self.case.width + 2 * _ROUND,
            self.case.board_height + 2 * _ROUND,
        )
        area = QRectF(self.rect()).adjusted(GRID * 2, GRID * 2, -GRID * 2, -GRID * 8)
        return fitted(scene, area)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Boards, spine, damage, the parts, the chosen one firm, and a rule of millimetres."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), surround())
        if self.case is None or self._repair is None:
            painter.setPen(grey(97))
            words = "The case is drawn once the back and the height are measured."
            painter.drawText(self.rect(), int(Qt.AlignmentFlag.AlignCenter), words)
            return
        transform = self._transform()
        painter.save()
        painter.setTransform(transform, True)
        self._paint_case(painter, self.case, self._repair)
        self._paint_damage(painter)
        self._paint_parts(painter)
        painter.restore()
        self._paint_words(painter, transform)

    def _paint_case(self, painter: QPainter, case: Case, repair: NewRepair) -> None:
        boards = repair.target(BookSpot.BOARDS, BookSpot.JOINTS)
        spine = repair.target(BookSpot.SPINE, BookSpot.JOINTS, BookSpot.BOARDS)
        painter.setPen(cosmetic(grey(20), 1.0))
        joint = ring_polygon(
            (
                (case.board_width, 0.0),
                (case.width - case.board_width, 0.0),
                (case.width - case.board_width, case.board_height),
                (case.board_width, case.board_height),
            )
        )
        painter.setBrush(lab_colour(spine.lab) if spine else grey(_SPINE_L - 4))
        painter.drawPolygon(joint)
        painter.setBrush(lab_colour(boards.lab) if boards else grey(_BOARD_L))
        for board in case.boards:
            painter.drawPolygon(ring_polygon(board))
        painter.setBrush(lab_colour(spine.lab) if spine else grey(_SPINE_L))
        painter.drawPolygon(ring_polygon(case.back))

    def _paint_damage(self, painter: QPainter) -> None:
        for mark in self._marks:
            hatched = _DAMAGE_BRUSH.get(mark.harm)
            painter.setPen(cosmetic(grey(96), 1.2, Qt.PenStyle.DashLine))
            if hatched is None:
                xs = [x for x, _ in mark.ring]
                ys = [-y for _, y in mark.ring]
                middle = sum(xs) / len(xs)
                _paint_crack(painter, middle, min(ys), max(ys), mark.harm)
                continue
            brush = QBrush(grey(92), hatched)
            brush.setTransform(painter.deviceTransform().inverted()[0])
            painter.setBrush(brush)
            painter.drawPolygon(ring_polygon(mark.ring))

    def _paint_parts(self, painter: QPainter) -> None:
        chosen: tuple[NewPart, Ring] | None = None
        for part, ring in self._rings:
            if part.key == self.chosen:
                chosen = (part, ring)
                continue
            shown = part.shown
            painter.setBrush(Qt.BrushStyle.NoBrush)
            style = Qt.PenStyle.SolidLine if shown else Qt.PenStyle.DotLine
            for width, lightness in ((2.5, 12.0), (1.0, 97.0)) if shown else ((1.0, 12.0),):
                painter.setPen(cosmetic(grey(lightness), width, style))
                painter.drawPolygon(ring_polygon(ring))
        if chosen is not None:
            self._paint_chosen(painter, *chosen)

    def _paint_chosen(self, painter: QPainter, part: NewPart, ring: Ring) -> None:
        shape = ring_polygon(ring)
        box = shape.boundingRect()
        piece = self._pieces.get(part.key)
        painter.save()
        painter.setOpacity(0.92)
        whole = QPainterPath()
        whole.addPolygon(shape)
        painter.setClipPath(whole, Qt.ClipOperation.IntersectClip)
        if piece is not None:
            corners = part.corners if isinstance(part, BookPart) else ()
            fill_with_cloth(painter, box, piece, corners, self._previews)
        elif part.lab is not None:
            painter.fillRect(box, lab_colour(part.lab))
        else:
            painter.fillRect(box, grey(80))
        painter.restore()
        self._paint_zones(painter, part, box)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for width, lightness in ((5.0, 98.0), (2.5, 8.0)):
            painter.setPen(cosmetic(grey(lightness), width))
            painter.drawPolygon(shape)

    def _paint_zones(self, painter: QPainter, part: NewPart, box: QRectF) -> None:
        """What the old cloth covers is hatched, so that what is seen stands out."""
        if part.role in ("corner-patch", "corner-triangle") or not part.shown:
            return
        brush = QBrush(grey(15), Qt.BrushStyle.FDiagPattern)
        brush.setTransform(painter.deviceTransform().inverted()[0])
        for sight, left, low, right, high in part.zones:
            zone = QRectF(box.left() + left, box.bottom() - high, right - left, high - low)
            if sight == "hidden":
                painter.fillRect(zone, brush)
                painter.setPen(cosmetic(grey(15), 0.7))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(zone)

    def _paint_words(self, painter: QPainter, transform: QTransform) -> None:
        case = self.case
        if case is None:
            return
        scale = transform.m11()
        step = nice_step(1.0 / scale, 90.0)
        y = self.height() - GRID * 3
        x = GRID * 4
        for width, lightness in ((4.0, 10.0), (2.0, 97.0)):
            painter.setPen(cosmetic(grey(lightness), width))
            painter.drawLine(QPointF(x, y), QPointF(x + step * scale, y))
        painter.setPen(grey(97))
        painter.drawText(QPointF(x + step * scale + GRID * 2, y + 4), self.lengths.show(step))
        told = "Seen from outside, head up, front board at the right"
        if case.guessed_width:
            told = "The boards' width was not measured: drawn as is usual"
        wide = painter.fontMetrics().horizontalAdvance(told) + GRID * 3
        if self.width() - wide > x + step * scale + GRID * 20:
            painter.drawText(QPointF(self.width() - wide, y + 4), told)
        for part, ring in self._rings:
            if part.key == self.chosen:
                box = transform.mapRect(ring_polygon(ring).boundingRect())
                size = self.lengths.pair(part.width, part.height)
                self._label(painter, QPointF(box.center().x(), box.center().y()), size)

    def _label(self, painter: QPainter, at: QPointF, words: str) -> None:
        box = QRectF(painter.fontMetrics().boundingRect(words)).adjusted(-6, -3, 6, 3)
        box.moveCenter(at)
        box.moveLeft(max(2.0, min(box.left(), self.width() - box.width() - 2.0)))
        painter.fillRect(box, grey(12))
        painter.setPen(grey(97))
        painter.drawText(box, int(Qt.AlignmentFlag.AlignCenter), words)

    # The pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the smallest part under the pointer; again, the next larger one."""
        found = self._under(event.position())
        if not found:
            return
        keys = [part.key for part in found]
        place = keys.index(self.chosen) + 1 if self.chosen in keys else 0
        self.part_chosen.emit(keys[place % len(keys)])

    def _under(self, spot: QPointF) -> list[NewPart]:
        if self.case is None:
            return []
        at = self._transform().inverted()[0].map(spot)
        here = Point(at.x(), -at.y())
        return [part for part, ring in reversed(self._rings) if Polygon(ring).covers(here)]

    def centre_of(self, key: tuple[str, str, int]) -> QPointF | None:
        """Where the middle of a part is drawn, or None where it has no place on the case."""
        for part, ring in self._rings:
            if part.key == key:
                return self._transform().mapRect(ring_polygon(ring).boundingRect()).center()
        return None


def _paint_crack(painter: QPainter, x: float, top: float, foot: float, harm: Harm) -> None:
    """A line that wanders down the joint; broken where it is only tender."""
    style = Qt.PenStyle.DotLine if harm is Harm.JOINT_TENDER else Qt.PenStyle.SolidLine
    steps = 18
    points = [
        QPointF(x + (0.9 if n % 2 else -0.9), top + (foot - top) * n / steps)
        for n in range(steps + 1)
    ]
    for width, lightness in ((3.5, 6.0), (1.4, 97.0)):
        painter.setPen(cosmetic(grey(lightness), width, style))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(points)
