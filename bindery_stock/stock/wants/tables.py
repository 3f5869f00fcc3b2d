"""The tables of what to buy or look for."""

from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import TrackedBase


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
