"""The hoard to scale: every piece in its true outline on a millimetre ground."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QToolTip

from bindery_stock.bench.shelf.layout import lay_to_fit
from bindery_stock.bench.shelf.layout_values import (
    ShelfGroup,
    ShelfItem,
    ShelfLayout,
    ShelfSpot,
    ShelfWords,
)
from bindery_stock.bench.shelf.piece_words import one_line
from bindery_stock.bench.shelf.search import PieceGroup, lightness
from bindery_stock.desktop.drawn_shapes import cosmetic
from bindery_stock.desktop.jobs import Job
from bindery_stock.desktop.look import GRID, TypeSize, grey, sized
from bindery_stock.desktop.previews import Previews
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.captions import (
    least_caption,
    paint_caption,
    paint_chosen,
    paint_headings,
    paint_sign,
)
from bindery_stock.desktop.shelf.choice import ChosenPieces
from bindery_stock.desktop.shelf.ground import (
    bar_height,
    paint_ground,
    paint_scale_bar,
    rect_of_spot,
)
from bindery_stock.desktop.shelf.ground_view import GroundView
from bindery_stock.desktop.shelf.sprites import Sprites
from bindery_stock.desktop.tips import plain_tip
from bindery_stock.stock import StockPiece

_CAPTIONS_AT_MOST = 800
_LAID_AT_ONCE = 1500
"""So many pieces are laid within a frame; more are laid in the background."""
_NEAR_PX = 4.0  # how far beside a narrow strip the pointer still finds it
_CLOSE_UP = 3.0  # px per mm
_PAGE_ROWS = 4
_FURTHEST = 1_000_000
"""More pieces than lie on any shelf."""
_STEPS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
    Qt.Key.Key_PageUp: (0, -_PAGE_ROWS),
    Qt.Key.Key_PageDown: (0, _PAGE_ROWS),
    Qt.Key.Key_Home: (-_FURTHEST, 0),
    Qt.Key.Key_End: (_FURTHEST, 0),
}
"""How far each key goes from piece to piece: along the row, and over rows."""
_ADDING = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


class HoardView(GroundView):
    """Shows groups of pieces and lets them be chosen.

    Knows the pieces shown and how they lie. Emits ``sheet_wanted()`` when Enter asks for the sheet
    of the chosen piece.
    """

    sheet_wanted = Signal()

    def __init__(self, session: Session, previews: Previews, choice: ChosenPieces) -> None:
        """Begin with nothing on the ground."""
        super().__init__()
        self._session = session
        self._choice = choice
        self._sprites = Sprites(previews)
        self._groups: Sequence[PieceGroup] = ()
        self._pieces: dict[int, StockPiece] = {}
        self._job: Job | None = None
        self._laid = ShelfLayout((), (), 0.0, 0.0, 1.0, 0.0)
        self._unfinished = False
        self._again = QTimer(self, singleShot=True, interval=0)
        self._again.timeout.connect(self.viewport().update)
        self.setAccessibleName("The hoard to scale")
        self.setAccessibleDescription("Arrows go from piece to piece, plus and minus zoom.")
        sized(self, TypeSize.SMALL)
        self.pressed.connect(self._choose_at)
        choice.changed.connect(self._choice_changed)
        previews.ready.connect(self._picture_ready)

    @property
    def laid(self) -> ShelfLayout:
        """How the pieces lie."""
        return self._laid

    @property
    def is_laying(self) -> bool:
        """Whether the hoard is being laid in the background."""
        return self._job is not None

    @property
    def is_painting(self) -> bool:
        """Whether pieces in view are still to be painted in the next frames."""
        return self._unfinished

    def forget(self) -> None:
        """Another stockroom: forget every painted piece, and show the whole."""
        self._sprites.clear()
        self.show_whole()

    def show_groups(self, groups: Sequence[PieceGroup]) -> None:
        """Lay these pieces out; the zoom stays. Thousands are laid away from the window."""
        self._groups = groups
        self._lay()

    def make_ready(self, pieces: Sequence[StockPiece], check: Callable[[], None]) -> None:
        """Work out how pieces are drawn, on any thread; ``check`` raises where that is to end."""
        self._sprites.make_ready(pieces, check)

    def not_ready(self, pieces: Sequence[StockPiece]) -> list[StockPiece]:
        """Those of which it is still to be worked out how they are drawn."""
        return [piece for piece in pieces if not self._sprites.is_drawn(piece)]

    def rect_of(self, piece: int) -> QRectF:
        """Where a piece shown stands, in pixels of the viewport."""
        return rect_of_spot(self._laid.spots[piece], self.origin(), self.scale)

    def reveal(self, piece: int) -> None:
        """Move until a piece is in view, if it is shown at all."""
        if piece in self._laid.spots:
            margin = GRID * 4
            self.bring_into_view(self.rect_of(piece).adjusted(-margin, -margin, margin, margin * 2))

    def anchor(self) -> QPointF:
        """The chosen piece stays where it is, if it is in view."""
        current = self._choice.current
        if current is not None and current in self._laid.spots:
            middle = self.rect_of(current).center()
            if QRectF(self.viewport().rect()).contains(middle):
                return middle
        return super().anchor()

    def _lay(self) -> None:
        metrics = self.fontMetrics()
        words = ShelfWords(
            caption_height=metrics.height() + GRID,
            heading_height=metrics.height() * 1.5 + GRID * 4,
            character=metrics.averageCharWidth() * 1.5,
        )
        size = self.viewport().size()
        view = (size.width(), size.height() - bar_height(metrics))
        groups, lots = self._groups, [self._lot(group) for group in self._groups]
        if self._job is not None:
            self._job.stop()
            self._job = None
        if sum(len(lot.items) for lot in lots) <= _LAID_AT_ONCE:
            self._show_laid(groups, lay_to_fit(lots, view, words))
            return
        self._job = self._session.jobs.run(
            lambda _job: lay_to_fit(lots, view, words),
            owner=self,
            done=partial(self._show_laid, groups),
        )

    def _show_laid(self, groups: Sequence[PieceGroup], laid: ShelfLayout) -> None:
        was_away = self._job is not None
        self._job = None
        self._pieces = {piece.id: piece for group in groups for piece in group.pieces}
        self._laid = laid
        foot = bar_height(self.fontMetrics())
        self.set_extent(laid.width, laid.height, laid.scale, foot=foot)
        if was_away and self._choice.current is not None:
            self.reveal(self._choice.current)

    def _lot(self, group: PieceGroup) -> ShelfGroup:
        items = []
        metrics = self.fontMetrics()
        for number, piece in enumerate(group.pieces):
            drawn = self._sprites.drawn(piece)
            rank = lightness(piece) if group.band else float(number)
            words = metrics.horizontalAdvance(least_caption(drawn))
            size = drawn.bounds.size()
            items.append(ShelfItem(piece.id, size.width(), size.height(), rank, words))
        return ShelfGroup(group.heading, tuple(items))

    def _spot_at(self, at: QPointF) -> ShelfSpot | None:
        """The piece under the pointer, else one whose box is there."""
        mm = (at - self.origin()) / self.scale
        near = _NEAR_PX / self.scale
        found = [
            spot
            for spot in self._laid.within(mm.x() - near, mm.y(), mm.x() + near, mm.y())
            if spot.y - near <= mm.y() <= spot.y + spot.height + near
        ]
        for spot in found:
            drawn = self._sprites.drawn(self._pieces[spot.id])
            if drawn.path.contains(mm - QPointF(spot.x, spot.y) + drawn.bounds.topLeft()):
                return spot
        return found[0] if found else None

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what is in view; what is not painted yet follows in the next frames."""
        painter = QPainter(self.viewport())
        view, origin = QRectF(self.viewport().rect()), self.origin()
        paint_ground(painter, view, origin, self.scale)
        low = (view.topLeft() - origin) / self.scale
        high = (view.bottomRight() - origin) / self.scale
        visible = self._laid.within(low.x(), low.y(), high.x(), high.y())
        self._sprites.begin_frame()
        finished = True
        for spot in visible:
            place = rect_of_spot(spot, origin, self.scale)
            finished &= self._sprites.paint(painter, self._pieces[spot.id], place, self.scale)
        self._paint_words(painter, visible, origin)
        paint_headings(painter, self._laid.headings, origin, self.scale)
        for spot in visible:
            if spot.id in self._choice.ids:
                drawn = self._sprites.drawn(self._pieces[spot.id])
                paint_chosen(painter, drawn, rect_of_spot(spot, origin, self.scale), self.scale)
        if self._pieces:
            paint_scale_bar(painter, view, self.scale, self._session.settings.lengths)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(cosmetic(grey(98), 2.0))
            painter.drawRect(view.adjusted(1, 1, -1, -1))
        self._unfinished = not finished
        if self._unfinished:
            self._again.start()

    def _paint_words(self, painter: QPainter, seen: Sequence[ShelfSpot], origin: QPointF) -> None:
        lengths, usable = self._session.settings.lengths, self._session.usable
        room = self._laid.room_below * self.scale
        written = room >= painter.fontMetrics().height() and len(seen) <= _CAPTIONS_AT_MOST
        for spot in seen:
            drawn = self._sprites.drawn(self._pieces[spot.id])
            place = rect_of_spot(spot, origin, self.scale)
            if written:
                said = usable.words(drawn.source, lengths)
                paint_caption(painter, drawn, place, self.scale, lengths, said)
            elif drawn.sign:
                paint_sign(painter, drawn, place)

    def _choice_changed(self) -> None:
        current = self._choice.current
        if current is not None and current in self._pieces:
            told = self._told(self._pieces[current])
            self.setAccessibleDescription(told)
            self.reveal(current)
        self.viewport().update()

    def _told(self, piece: StockPiece) -> str:
        return one_line(piece, self._session.settings.lengths, self._session.rules)

    def _picture_ready(self, code: str) -> None:
        self._sprites.forget(code)
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the hoard anew where its shape must follow the view's."""
        super().resizeEvent(event)
        if self.is_whole:
            self._lay()
        else:
            self.set_bars()

    def viewportEvent(self, event: QEvent) -> bool:
        """Tell what is under the pointer."""
        if isinstance(event, QHelpEvent):
            spot = self._spot_at(QPointF(event.pos()))
            told = self._told(self._pieces[spot.id]) if spot else ""
            QToolTip.showText(event.globalPos(), plain_tip(told), self)
            return True
        return super().viewportEvent(event)

    def _choose_at(self, at: QPointF, modifiers: Qt.KeyboardModifier) -> None:
        spot = self._spot_at(at)
        if spot is not None and modifiers & _ADDING:
            self._choice.toggle(spot.id)
        else:
            self._choice.only(spot.id if spot else None)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Bring a piece up close, as plus does by key."""
        spot = self._spot_at(event.position())
        if spot is not None and self.scale < _CLOSE_UP:
            self.zoom(_CLOSE_UP / self.scale, event.position())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows go from piece to piece, Enter opens the sheet."""
        key = Qt.Key(event.key())
        if key in _STEPS and self._pieces:
            self._walk(*_STEPS[key])
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self._choice.current is not None:
            self.sheet_wanted.emit()
        else:
            super().keyPressEvent(event)

    def _walk(self, along: int, rows: int) -> None:
        current = self._choice.current
        if current is None or current not in self._laid.spots:
            self._choice.only(next(iter(self._laid.spots)))
        elif rows:
            self._choice.only(self._laid.across(current, rows))
        else:
            self._choice.only(self._laid.beside(current, along))
