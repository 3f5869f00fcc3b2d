"""The tables of the pieces: what they are, what was cut, reserved and confirmed."""

from sqlalchemy import CheckConstraint
from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import TrackedBase, added, refers


class PieceRow(TrackedBase):
    """A piece of cloth, leather, paper …"""

    __tablename__ = "piece"
    __table_args__ = (CheckConstraint("area > 0", name="area"), {"sqlite_autoincrement": True})

    code: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str]
    form: Mapped[str]
    state: Mapped[str] = mapped_column(index=True)
    fate: Mapped[str]
    pattern: Mapped[str]
    backing: Mapped[str]
    fibre: Mapped[str]
    outline: Mapped[str]
    flaws: Mapped[str]
    area: Mapped[float]
    source: Mapped[str]
    source_date: Mapped[str]
    place: Mapped[str]
    note: Mapped[str]
    price: Mapped[str | None]
    parent_id: Mapped[int | None] = mapped_column(refers("piece.id"), index=True)
    shelved_at: Mapped[str]
    colour_family: Mapped[str] = added("")
    properties: Mapped[str] = added("[]")
    lab_results: Mapped[str] = added("[]")


class ColourRow(TrackedBase):
    """One colour reading of one face of a piece."""

    __tablename__ = "colour_reading"

    piece_id: Mapped[int] = mapped_column(refers("piece.id"), index=True)
    position: Mapped[int]
    lightness: Mapped[float]
    a: Mapped[float]
    b: Mapped[float]
    face: Mapped[str]
    spread: Mapped[float]
    u: Mapped[float | None]
    method: Mapped[str]
    photo: Mapped[str | None] = mapped_column(refers("photo.sha256"))
    patch: Mapped[str]
    read_by: Mapped[str] = added("")


class MarkRow(TrackedBase):
    """How a photograph shows a piece."""

    __tablename__ = "photo_mark"

    piece_id: Mapped[int] = mapped_column(refers("piece.id"), index=True)
    position: Mapped[int]
    photo: Mapped[str] = mapped_column(refers("photo.sha256"))
    to_mm: Mapped[str]
    scale_note: Mapped[str]


class CuttingRow(TrackedBase):
    """What was cut from a piece in one sitting, and the slivers thrown away."""

    __tablename__ = "cutting"

    piece_id: Mapped[int] = mapped_column(refers("piece.id"), unique=True)
    purpose: Mapped[str]
    width: Mapped[float]
    height: Mapped[float]
    corners: Mapped[str]
    discarded: Mapped[str]
    also: Mapped[str] = added("[]")


class ReservationRow(TrackedBase):
    """A part of a piece spoken for."""

    __tablename__ = "reservation"

    piece_id: Mapped[int] = mapped_column(refers("piece.id"), index=True)
    purpose: Mapped[str]
    width: Mapped[float]
    height: Mapped[float]
    corners: Mapped[str]
    at: Mapped[str]


class ConfirmationRow(TrackedBase):
    """What a photograph of book and piece side by side said."""

    __tablename__ = "confirmation"

    piece_id: Mapped[int] = mapped_column(refers("piece.id"), index=True)
    purpose: Mapped[str]
    light: Mapped[str]
    delta_e: Mapped[float]
    u: Mapped[float]
    method: Mapped[str]
    photo: Mapped[str | None] = mapped_column(refers("photo.sha256"))
    book_patches: Mapped[str]
    piece_patches: Mapped[str]
    at: Mapped[str]
