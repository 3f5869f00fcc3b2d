"""The tables of ``stock.sqlite``.

Times are ISO 8601 text in UTC, dates ISO 8601 text, money decimal text, outlines and rings JSON
text: every column holds a plain value, so a row in the ledger is the row itself. References are
checked when a transaction ends, so that a step may put rows back in any order. Row ids and codes
are never used twice.

The tables named in ``TRACKED`` are the stock: each change to them is a movement in the ledger.
"""

from typing import Any

from sqlalchemy import DDL, CheckConstraint, event
from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.books.tables import BOOK_ROWS
from bindery_stock.stock.table_base import Base, TrackedBase, refers


def _added(default: str) -> Any:
    """A text column that came with a later schema: older rows take the default."""
    return mapped_column(default=default, server_default=default)


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
    colour_family: Mapped[str] = _added("")
    properties: Mapped[str] = _added("[]")
    lab_results: Mapped[str] = _added("[]")


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
    also: Mapped[str] = _added("[]")


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


class AdhesiveLotRow(TrackedBase):
    """One tin, jar or batch of adhesive."""

    __tablename__ = "adhesive_lot"

    code: Mapped[str] = mapped_column(unique=True)
    kind: Mapped[str]
    name: Mapped[str]
    supplier: Mapped[str]
    bought: Mapped[str | None]
    opened: Mapped[str | None]
    made: Mapped[str | None]
    expires: Mapped[str | None]
    quantity: Mapped[str]
    place: Mapped[str]
    storage: Mapped[str]
    frozen_once: Mapped[bool]
    ph: Mapped[float | None]
    note: Mapped[str]
    finished: Mapped[bool]
    received: Mapped[str | None]
    reference: Mapped[str] = _added("")
    unit: Mapped[str | None]
    held: Mapped[float | None]
    left: Mapped[float | None]
    properties: Mapped[str] = _added("[]")
    fate: Mapped[str] = _added("")


class LotPartRow(TrackedBase):
    """A lot that another was mixed or diluted from."""

    __tablename__ = "lot_part"

    lot_id: Mapped[int] = mapped_column(refers("adhesive_lot.id"), index=True)
    position: Mapped[int]
    part_id: Mapped[int] = mapped_column(refers("adhesive_lot.id"))


class LotUseRow(TrackedBase):
    """Something taken from a lot."""

    __tablename__ = "lot_use"

    lot_id: Mapped[int] = mapped_column(refers("adhesive_lot.id"), index=True)
    use: Mapped[str]
    purpose: Mapped[str]
    amount: Mapped[float | None]
    unit: Mapped[str | None]
    laid_on_id: Mapped[int | None] = mapped_column(refers("piece.id"))
    verdict: Mapped[str]
    override_reason: Mapped[str]
    at: Mapped[str]


class WantedRow(TrackedBase):
    """Something to buy or to look for."""

    __tablename__ = "wanted"

    code: Mapped[str] = mapped_column(unique=True)
    what: Mapped[str]
    purpose: Mapped[str]
    width: Mapped[float | None]
    height: Mapped[float | None]
    lightness: Mapped[float | None]
    a: Mapped[float | None]
    b: Mapped[float | None]
    note: Mapped[str]
    since: Mapped[str]
    outcome: Mapped[str]


class ReorderRow(TrackedBase):
    """The least that should be at hand of a kind."""

    __tablename__ = "reorder_point"

    kind: Mapped[str] = mapped_column(unique=True)
    least: Mapped[float]
    unit: Mapped[str]


_STOCK_ROWS: tuple[type[TrackedBase], ...] = (
    PieceRow,
    ColourRow,
    MarkRow,
    CuttingRow,
    ReservationRow,
    ConfirmationRow,
    AdhesiveLotRow,
    LotPartRow,
    LotUseRow,
    WantedRow,
    ReorderRow,
)
TRACKED: dict[str, type[TrackedBase]] = {
    row.__tablename__: row for row in (*_STOCK_ROWS, *BOOK_ROWS)
}
"""The stock itself: the rows of these tables are what the ledger adds up to."""


class PhotoRow(Base):
    """One original in the photo archive. A row is added once and stays."""

    __tablename__ = "photo"

    sha256: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    width: Mapped[int]
    height: Mapped[int]
    suffix: Mapped[str]
    archived_at: Mapped[str]


class StepRow(Base):
    """One ledger group: what the binder did in one go."""

    __tablename__ = "step"

    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    at: Mapped[str]
    verb: Mapped[str]
    name: Mapped[str]
    codes: Mapped[str]
    undoes: Mapped[int | None] = mapped_column(refers("step.number"))


class MovementRow(Base):
    """What one step did to one row: the whole row before and after, as JSON."""

    __tablename__ = "movement"

    id: Mapped[int] = mapped_column(primary_key=True)
    step: Mapped[int] = mapped_column(refers("step.number"), index=True)
    kind: Mapped[str]
    row_id: Mapped[int]
    before: Mapped[str | None]
    after: Mapped[str | None]


class SettingRow(Base):
    """A setting about the stock, which travels with it."""

    __tablename__ = "setting"

    key: Mapped[str] = mapped_column(primary_key=True)
    value: Mapped[str]


class CodeSeriesRow(Base):
    """The last number given out for a letter; it never goes back, even when a step is undone."""

    __tablename__ = "code_series"

    letter: Mapped[str] = mapped_column(primary_key=True)
    last: Mapped[int]


def _append_only(table: str, change: str) -> DDL:
    return DDL(  # type: ignore[no-untyped-call]
        f"CREATE TRIGGER {table}_is_append_only_{change.lower()} BEFORE {change} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END"
    )


for _table in (StepRow.__table__, MovementRow.__table__):
    for _change in ("UPDATE", "DELETE"):
        event.listen(
            _table,
            "after_create",
            _append_only(str(_table), _change).execute_if(dialect="sqlite"),
        )
