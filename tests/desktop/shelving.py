"""Pieces put on the shelf for the desktop's tests."""

from pathlib import Path

from bindery_stock.colour import measure
from bindery_stock.desktop.session import Session
from bindery_stock.shape import Flaw, Outline
from bindery_stock.stock import Colour, NewPiece, Photo, PhotoMark
from bindery_stock.trade.vocabulary import Kind

TO_MM = (0.25, 0.0, -25.0, 0.0, -0.25, 270.0, 0.0, 0.0, 1.0)
"""The scale of ``paint_cloth``'s picture: its scrap lies from (0, 0) to (200, 250) mm."""


def box(width: float, height: float) -> Outline:
    return Outline(((0, 0), (width, 0), (width, height), (0, height)))


def shelve_cloth(
    session: Session,
    photo: Path | None = None,
    outline: Outline | None = None,
    *,
    lab: tuple[float, float, float] | None = None,
    flaws: tuple[Flaw, ...] = (),
    source: str = "case of an invented novel",
) -> str:
    """Shelve a piece of rib cloth without waiting for the window; returns its code."""
    room = session.stockroom
    marks: tuple[PhotoMark, ...] = ()
    if photo is not None:
        archived: Photo = room.photos.archive(photo, name=photo.name, width=1100, height=1200)
        marks = (PhotoMark(archived, TO_MM, "for the test"),)
        reading = measure(photo, ((200, 200), (500, 200), (500, 500), (200, 500)))
        colours = (Colour(reading.lab, spread=reading.spread, u=3.0, method=reading.method),)
    else:
        colours = (Colour(lab or (33.0, 38.0, 24.0), u=3.0, method="typed for the test"),)
    changes = room.pieces.shelve(
        NewPiece(
            kind=Kind.CLOTH,
            outline=outline or box(200, 250),
            pattern="rib",
            marks=marks,
            colours=colours,
            flaws=flaws,
            source=source,
            place="Tin 3",
        )
    )
    session.heard(changes)
    return changes.born[0]
