"""What ``python -m tests.screens`` takes pictures of: each place in the states worth looking at."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import numpy as np

from bindery_stock.bench.match.line_up_photo import told_line_up
from bindery_stock.bench.photo_table.marks import KnownRectangle
from bindery_stock.desktop.adhesives.lot_dialog import LotStart
from bindery_stock.desktop.adhesives.screen import AdhesivesScreen
from bindery_stock.desktop.books.screen import BooksScreen
from bindery_stock.desktop.colour_room.screen import ColourRoomScreen
from bindery_stock.desktop.line_up.dialog import LineUpDialog
from bindery_stock.desktop.match.screen import MatchScreen
from bindery_stock.desktop.photo_table.screen import PhotoTableScreen
from bindery_stock.desktop.screen import Screen
from bindery_stock.desktop.session import Session
from bindery_stock.desktop.shelf.screen import ShelfScreen
from bindery_stock.desktop.window import Window
from bindery_stock.records.codes_seen import codes_seen
from bindery_stock.shape import Ring
from bindery_stock.stock import (
    Colour,
    NewAdhesiveLot,
    NewBookSet,
    NewPiece,
    NewRepair,
    PhotoMark,
    StockPiece,
    Stockroom,
)
from bindery_stock.trade import Damage, Harm, Survey
from bindery_stock.trade.vocabulary import Kind
from tests.bench.test_line_up import SHELF, found_in
from tests.desktop.charts import CORNERS, photograph_target
from tests.desktop.shelving import box
from tests.rendered.line_up import CODES, SIZE, seven

P = TypeVar("P", bound=Screen)
Scene = tuple[str, Callable[[], None]]


def place_of(window: Window, kind: type[P]) -> P:
    """The place of a class."""
    return next(place for place in window.places if isinstance(place, kind))


def every_place(window: Window, _session: Session, _scratch: Path) -> Iterator[Scene]:
    """Each place as it stands when one goes there: what an empty stockroom says."""
    for place in window.places:
        name = place.title.lower().replace(" ", "-")
        yield name, lambda place=place: window.go_to(place)
    adhesives = place_of(window, AdhesivesScreen)
    yield from _pages(window, adhesives)


def at_work(window: Window, session: Session, scratch: Path) -> Iterator[Scene]:
    """The sample in the middle of a day's work."""
    rib = [p for p in session.pieces if p.pattern == "rib" and p.colour and p.marks]
    chosen = max(rib, key=lambda piece: piece.outline.area)
    yield from _on_the_shelf(window, session, chosen)
    yield from _matching(window, session, chosen, scratch)
    yield from _shelving(window, session, chosen)
    yield from _books(window)
    adhesives = place_of(window, AdhesivesScreen)
    yield "adhesives", lambda: window.go_to(adhesives)
    yield "adhesives-entering", lambda: adhesives.tasks.enter(LotStart.BOUGHT)
    yield "adhesives-using", adhesives.use
    yield from _pages(window, adhesives)
    yield from _colour(window, scratch)
    yield "ledger", lambda: window.go_to(window.places[-1])


def with_long_names(window: Window, session: Session, _scratch: Path) -> Iterator[Scene]:
    """Names as long as a binder might ever write them."""
    piece = session.pieces[0]
    shelf, books = place_of(window, ShelfScreen), place_of(window, BooksScreen)
    yield "shelf", lambda: session.piece_wanted.emit(piece.code)
    yield "shelf-table", lambda: shelf.show_table(True)
    yield "match", lambda: session.match_wanted.emit(piece.code)
    yield "match-line-up", place_of(window, MatchScreen).line_up
    yield "books", lambda: window.go_to(books)
    yield "books-volume", lambda: books.show_volume(session.stockroom.books.repairs()[0].code)
    yield "adhesives", lambda: window.go_to(place_of(window, AdhesivesScreen))
    yield "ledger", lambda: window.go_to(window.places[-1])


def _on_the_shelf(window: Window, session: Session, chosen: StockPiece) -> Iterator[Scene]:
    shelf = place_of(window, ShelfScreen)
    yield "shelf", lambda: session.piece_wanted.emit(chosen.code)
    yield "shelf-facts", shelf.edit
    yield "shelf-table", lambda: shelf.show_table(True)

    def nothing() -> None:
        shelf.show_table(False)
        shelf.finder.words.setText("tartan")

    yield "shelf-nothing-found", nothing
    yield "shelf-again", shelf.finder.clear


def _matching(
    window: Window, session: Session, chosen: StockPiece, scratch: Path
) -> Iterator[Scene]:
    match = place_of(window, MatchScreen)

    def seek() -> None:
        match.form.purpose.setText("reback strip, vol. 10")
        session.match_wanted.emit(chosen.code)

    yield "match", seek

    def near() -> None:
        match.form.along.show_length(330)
        match.form.changed.emit()

    yield "match-nothing-serves", near

    def again() -> None:
        match.form.along.show_length(228)
        match.form.changed.emit()

    yield "match-again", again
    yield "match-cut-sheet", match.cut_chosen
    yield "match-beside", match.hold_chosen_beside
    yield from _line_up(match, scratch)
    photo = session.stockroom.photos.path(chosen.marks[0].photo.sha256)
    yield "match-patch", lambda: match.target.pick_from(photo)


def _line_up(match: MatchScreen, scratch: Path) -> Iterator[Scene]:
    """Each stage stands in a dialog of its own, as one picture closes the one before."""
    bench = seven()
    photo = bench.photograph(scratch / "line-up.jpg")
    laid = [row.piece.code for row in match.model.rows if row.match and row.piece][:5]
    first, *others = found_in(bench)
    codes = dict(zip((code for code in CODES if code), laid, strict=False))
    labels = [replace(one, text=codes[one.text]) for one in codes_seen(photo) if one.text in codes]
    shelf = {codes[code]: outline for code, outline in SHELF.items() if code in codes}
    whole = (photo, photo.name, SIZE)
    seen = told_line_up([first, *others], labels, whole, bench.scale, shelf, laid)

    def opened() -> LineUpDialog:
        match.line_up()
        assert match.road.dialog is not None
        return match.road.dialog

    def looked() -> LineUpDialog:
        dialog = opened()
        dialog.look.loaded.connect(lambda: dialog.look.looked.emit(seen))
        dialog.look.load(photo)
        return dialog

    def chosen() -> None:
        dialog = looked()
        number = next(n for n, scrap in enumerate(seen.scraps) if scrap.remark)
        dialog.look.looked.connect(lambda _seen: dialog.told.photo.choose(number))

    def busy() -> None:
        dialog = opened()
        dialog.look.loaded.connect(dialog.look.looking)
        dialog.look.work_strip.tell(0.1, "Finding the outlines…")
        dialog.look.load(photo)

    yield "match-line-up", lambda: opened() and None
    yield "match-line-up-scale", lambda: opened().look.load(photo)
    yield "match-line-up-busy", busy
    yield "match-line-up-read", lambda: looked() and None
    yield "match-line-up-remark", chosen


def _shelving(window: Window, session: Session, chosen: StockPiece) -> Iterator[Scene]:
    table = place_of(window, PhotoTableScreen)
    mark = chosen.marks[0]
    yield (
        "photo-table",
        lambda: session.photos_offered.emit([session.stockroom.photos.path(mark.photo.sha256)]),
    )

    def scaled() -> None:
        draft = table.draft
        assert draft is not None
        known = KnownRectangle(square(mark, 100.0), 100.0, 100.0)
        table.marking.steps[0].marked.emit(replace(draft.marks, scale=known))
        table.marking.go_to_step(0)

    yield "photo-table-scaled", scaled
    yield "photo-table-outline", lambda: table.marking.go_to_step(1)
    yield "photo-table-weave", table.marking.pass_on
    yield "photo-table-colour", lambda: table.marking.go_to_step(3)
    yield "photo-table-flaws", table.marking.pass_on
    yield "photo-table-facts", lambda: table.marking.go_to_step(5)


def square(mark: PhotoMark, side: float) -> Ring:
    """The corners of a square of the mat with its lower left at 0, 0 mm, in pixels."""
    to_px = np.linalg.inv(np.array(mark.to_mm).reshape(3, 3))
    corners = np.array([(0, side, 1), (side, side, 1), (side, 0, 1), (0, 0, 1)]) @ to_px.T
    return tuple((float(x / w), float(y / w)) for x, y, w in corners)


def _books(window: Window) -> Iterator[Scene]:
    books = place_of(window, BooksScreen)
    yield "books", lambda: window.go_to(books)

    def volume() -> None:
        repairs = books.books.volumes(books.set_view.code)
        books.show_volume(repairs[4].code)

    yield "books-volume", volume

    def no_dialog() -> None:
        if books.tasks.dialog is not None:
            books.tasks.dialog.reject()

    yield "books-damage", lambda: books.tasks.place_damage(books.volume_view.code)

    def treatments() -> None:
        no_dialog()
        books.tasks.choose_treatments(books.volume_view.code)

    yield "books-treatments", treatments
    no_dialog()
    yield "books-survey", lambda: books.volume_view.survey_wanted.emit(books.volume_view.code)

    def share() -> None:
        books.survey_form.left.emit()
        books.volume_view.back_wanted.emit()
        books.share_out([])

    yield "books-share", share
    yield "books-share-done", books.share_view.stop
    yield "books-facts", lambda: _back_to_set(books)


def _back_to_set(books: BooksScreen) -> None:
    books.share_view.left.emit()
    books.tasks.edit_set(books.set_view.code)


def _pages(window: Window, adhesives: AdhesivesScreen) -> Iterator[Scene]:
    def page(number: int) -> None:
        window.go_to(adhesives)
        adhesives.show_page(number)

    yield "adhesives-wanted", lambda: page(1)
    yield "adhesives-finds", lambda: page(2)
    yield "adhesives-again", lambda: page(0)


def _colour(window: Window, scratch: Path) -> Iterator[Scene]:
    room = place_of(window, ColourRoomScreen)
    yield "colour", lambda: window.go_to(room)
    yield "colour-photo", lambda: room.look_at(photograph_target(scratch / "target.png"))

    def judge() -> None:
        room.tool.show_rings((CORNERS,))
        room.judge()

    yield "colour-judged", judge


_ORIGIN = (
    "Loose boards and spines from the attic of the Dunnockmere reading room, bought with eleven "
    "odd volumes at the dispersal sale"
)
_TITLE = (
    "The Complete Chronicles of the Hollin Vale and of the Parishes Adjoining, with the Author's "
    "Last Corrections"
)
_MAKER = (
    "Thornwater and Ansty's Bookbinders' Wheat Starch Paste, ground twice, without preservative, "
    "for lining and mending"
)


def enter_long_names(room: Stockroom) -> None:
    """One piece, one set with two volumes and one lot, each with a very long name."""
    colour = Colour((33.0, 38.0, 24.0), u=3.0, method="typed in from an instrument")
    for width in (90, 120, 200):
        room.pieces.shelve(
            NewPiece(
                kind=Kind.CLOTH,
                outline=box(width, 250),
                pattern="rib",
                colours=(colour,),
                source=_ORIGIN,
                source_date="c. 1868, perhaps a little before",
                place="Plan chest by the north window, third drawer from the top, blue folder",
                note=_ORIGIN,
            )
        )
    code = room.books.add_set(NewBookSet(title=_TITLE, pattern="rib")).born[0]
    survey = Survey(
        spine_width=33.0,
        rise=5.0,
        joint=6.0,
        board_height=210.0,
        board_width=133.0,
        damage=(Damage(Harm.SPINE_LOST),),
        old_spine=False,
    )
    for volume in (1, 2):
        name = f"{_TITLE}, vol. {volume}"
        room.books.add_repair(
            NewRepair(name=name, title=_TITLE, book_set=code, volume=volume, survey=survey)
        )
    today = room.today
    room.lots.enter(
        NewAdhesiveLot(
            kind="wheat-starch-paste",
            name=_MAKER,
            supplier=_MAKER,
            made=today,
            place="Refrigerator in the back kitchen, top shelf, behind the gelatine",
        )
    )
