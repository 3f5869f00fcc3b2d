"""The tables of the adhesives."""

from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import TrackedBase, added, refers


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
    reference: Mapped[str] = added("")
    unit: Mapped[str | None]
    held: Mapped[float | None]
    left: Mapped[float | None]
    properties: Mapped[str] = added("[]")
    fate: Mapped[str] = added("")


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
