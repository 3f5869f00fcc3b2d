"""The photograph of a line-up: every scrap outlined, and told by its label or by its outline.

What cannot be told is left to be pointed at: nothing is told by where it lies or by what is left.
"""

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from shapely import Point as Spot
from shapely import Polygon

from bindery_stock.bench.match.told_scraps import Lettered, Telling, ToldBy, told_scraps
from bindery_stock.bench.photo_table.found_outline import FoundOutline, find_outline
from bindery_stock.bench.photo_table.marks import KnownLength, KnownRectangle, Marks
from bindery_stock.bench.photo_table.piece_shape import scale_of
from bindery_stock.records.codes_seen import CodeSeen, codes_seen
from bindery_stock.shape import Outline, PhotoScale, Ring

FACE_DOWN = "It lies back side up: turn it over, or say that this is the side meant."


@dataclass(frozen=True, slots=True, kw_only=True)
class LineUpScrap:
    """One thing of the photograph, in pixels of the upright photograph."""

    ring: Ring
    holes: tuple[Ring, ...] = ()
    doubtful: tuple[Ring, ...] = ()
    """Stretches of its edge to look at."""
    words: str = ""
    """How far to trust its outline."""
    labels: tuple[CodeSeen, ...] = ()
    """Labels that lie on it."""
    code: str = ""
    """The piece it is; empty where that is not told, and for the book."""
    by: ToldBy | None = None
    face_down: bool = False
    remark: str = ""
    """What is to be seen to."""
    is_book: bool = False

    @property
    def is_read(self) -> bool:
        """Whether what is read of it can be kept: a told scrap with the right side up."""
        return bool(self.code) and not self.face_down

    @property
    def mark(self) -> str:
        """What stands at it in the photograph: its code, ``book`` or ``?``."""
        return "book" if self.is_book else self.code or "?"


@dataclass(frozen=True, slots=True, kw_only=True)
class LineUpPhoto:
    """What lies in one photograph of a line-up, as found or as the binder put it right."""

    photo: Path
    name: str
    size: tuple[int, int]
    """Pixels of the upright photograph."""
    scraps: tuple[LineUpScrap, ...]
    """The book among them, where it was found."""
    labels: tuple[CodeSeen, ...] = ()
    """Every label that could be read."""
    remarks: tuple[str, ...] = ()

    @property
    def book(self) -> LineUpScrap | None:
        """The book, where it is known."""
        return next((scrap for scrap in self.scraps if scrap.is_book), None)

    @property
    def not_told(self) -> tuple[int, ...]:
        """The numbers of the scraps that are still to be pointed at."""
        return tuple(n for n, s in enumerate(self.scraps) if not s.code and not s.is_book)

    def pointed_at(self, number: int, code: str) -> "LineUpPhoto":
        """The binder says which piece one scrap is, this side up; with no code, that none is known.

        The piece lies nowhere else then.
        """
        code = code.strip().upper()
        by = ToldBy.HAND if code else None

        def said(at: int, scrap: LineUpScrap) -> LineUpScrap:
            if at == number:
                return replace(scrap, code=code, by=by, face_down=False, remark="", is_book=False)
            return replace(scrap, code="", by=None) if code and scrap.code == code else scrap

        return self._each(said)

    def booked(self, number: int) -> "LineUpPhoto":
        """The binder says which outline is the book."""

        def said(at: int, scrap: LineUpScrap) -> LineUpScrap:
            if at == number:
                return replace(scrap, is_book=True, code="", by=None, face_down=False, remark="")
            return replace(scrap, is_book=False)

        return self._each(said)

    def drawn(self, ring: Ring, shelf: Container[str]) -> "LineUpPhoto":
        """One more scrap, drawn round by hand, in the place of the outlines that it lies in or on.

        It is told where the label of one piece on the ``shelf`` lies in what was drawn.
        """
        body = Polygon(ring).buffer(0)
        kept = [
            scrap
            for scrap in self.scraps
            if not _is_same_place(body, Polygon(scrap.ring).buffer(0), book=scrap.is_book)
        ]
        labels = _within(body, self.labels)
        codes = {label.text for label in labels} - {scrap.code for scrap in kept}
        code = codes.pop() if len(codes) == 1 else ""
        code = code if code in shelf else ""
        by = ToldBy.LABEL if code else None
        scrap = LineUpScrap(ring=ring, labels=labels, words="Drawn by hand.", code=code, by=by)
        return replace(self, scraps=(*kept, scrap))

    def _each(self, said: Callable[[int, LineUpScrap], LineUpScrap]) -> "LineUpPhoto":
        return replace(self, scraps=tuple(said(n, scrap) for n, scrap in enumerate(self.scraps)))


def look_at_line_up(
    photo: Path,
    name: str,
    size: tuple[int, int],
    scale: KnownLength | KnownRectangle,
    shelf: Mapping[str, Outline],
    laid: Iterable[str] = (),
    tell: Callable[[float, str], None] = lambda _share, _words: None,
) -> LineUpPhoto:
    """Outline and tell everything in the photograph of a line-up; takes some seconds.

    ``shelf`` are the outlines of all pieces by code, ``laid`` the codes of those that were to be
    laid. The book is what lies in the middle and bears no label. ``tell`` hears how far it has
    come, and may raise to end it. Raises ``EntryError`` where the scale is not set, ``PhotoError``,
    and ``ShapeError`` where nothing is to be seen.
    """
    marks = Marks(scale=scale)
    known = scale_of(marks)
    tell(0.0, "Reading the labels…")
    codes = codes_seen(photo)
    tell(0.1, "Finding the outlines…")
    first = find_outline(photo, marks)
    tell(0.8, "Telling the scraps apart…")
    return told_line_up([first, *first.others], codes, (photo, name, size), known, shelf, laid)


def told_line_up(
    found: list[FoundOutline],
    codes: Iterable[CodeSeen],
    photo: tuple[Path, str, tuple[int, int]],
    scale: PhotoScale,
    shelf: Mapping[str, Outline],
    laid: Iterable[str] = (),
) -> LineUpPhoto:
    """As ``look_at_line_up``, of outlines and codes already found in a photograph."""
    path, name, size = photo
    codes = list(codes)
    labels = [Lettered(one.text, Polygon(scale.to_mm(one.ring))) for one in codes]
    outlines = [Outline(tuple(map(tuple, scale.to_mm(one.ring).tolist()))) for one in found]
    book = _book(outlines, labels, scale, size)
    told = told_scraps(outlines, labels, shelf, list(laid), book=book)
    scraps = tuple(
        _scrap(outline, telling, codes, is_book=number == book)
        for number, (outline, telling) in enumerate(zip(found, told, strict=True))
        if not telling.is_label
    )
    strange = sorted({one.text for one in codes} - set(shelf))
    remarks = [f"A label here says {code}, which is not on the shelf." for code in strange]
    if book is None:
        remarks.append("No book was found in the middle: point at it, or draw a patch on it.")
    return LineUpPhoto(
        photo=path,
        name=name,
        size=size,
        scraps=scraps,
        labels=tuple(codes),
        remarks=tuple(remarks),
    )


def _book(
    outlines: list[Outline], labels: list[Lettered], scale: PhotoScale, size: tuple[int, int]
) -> int | None:
    """The outline in the middle of the photograph, unless it bears a label."""
    (middle,) = scale.to_mm([(size[0] / 2, size[1] / 2)])
    bodies = [Polygon(outline.exterior) for outline in outlines]
    there = [n for n, body in enumerate(bodies) if body.contains(Spot(middle))]
    free = [n for n in there if not any(bodies[n].contains(one.symbol.centroid) for one in labels)]
    return free[0] if len(free) == 1 else None


def _within(body: Polygon, codes: Iterable[CodeSeen]) -> tuple[CodeSeen, ...]:
    """The labels whose middle lies in a shape of the photograph."""
    return tuple(one for one in codes if body.contains(Polygon(one.ring).centroid))


def _is_same_place(drawn: Polygon, before: Polygon, *, book: bool) -> bool:
    """Whether what was drawn stands for an outline found before, or for a part of it.

    On the book itself a scrap may lie.
    """
    common = drawn.intersection(before).area
    return bool(common > 0.5 * before.area or (common > 0.5 * drawn.area and not book))


def _scrap(
    found: FoundOutline, telling: Telling, codes: list[CodeSeen], *, is_book: bool
) -> LineUpScrap:
    on = _within(Polygon(found.ring), codes)
    remark = telling.remark
    if telling.face_down:
        remark = FACE_DOWN
    elif found.touching and not telling.code and not is_book:
        remark = remark or (
            "Two scraps may be touching here: lay them apart and photograph again, or draw round "
            "each."
        )
    return LineUpScrap(
        ring=found.ring,
        holes=found.holes,
        doubtful=found.doubtful,
        words=found.words,
        labels=on,
        code=telling.code,
        by=telling.by,
        face_down=telling.face_down,
        remark=remark,
        is_book=is_book,
    )
