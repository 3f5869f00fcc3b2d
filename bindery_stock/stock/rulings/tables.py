"""The table of rulings that were gone on against."""

from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import TrackedBase, refers


class RulingRow(TrackedBase):
    """One ruling, what it was about, and why the binder went on."""

    __tablename__ = "ruling"

    deed: Mapped[str]
    leave: Mapped[str]
    rules: Mapped[str]
    words: Mapped[str]
    reason: Mapped[str]
    piece_id: Mapped[int | None] = mapped_column(refers("piece.id"), index=True)
    lot_id: Mapped[int | None] = mapped_column(refers("adhesive_lot.id"), index=True)
    repair_id: Mapped[int | None] = mapped_column(refers("repair.id"), index=True)
    at: Mapped[str]
