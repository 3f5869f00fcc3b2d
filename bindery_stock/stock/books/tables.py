"""The tables of sets, repairs, parts and treatment. What has parts of its own is JSON text."""

from sqlalchemy import CheckConstraint
from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import TrackedBase, added, refers


class BookSetRow(TrackedBase):
    """Volumes in uniform binding."""

    __tablename__ = "book_set"

    code: Mapped[str] = mapped_column(unique=True)
    title: Mapped[str]
    author: Mapped[str]
    note: Mapped[str]
    pattern: Mapped[str]
    shared: Mapped[str]
    owner: Mapped[str] = added("")
    colour_family: Mapped[str] = added("")
    dated: Mapped[str] = added("")
    description: Mapped[str] = added("{}")


class RepairRow(TrackedBase):
    """One volume on the bench."""

    __tablename__ = "repair"

    code: Mapped[str] = mapped_column(unique=True)
    name: Mapped[str] = mapped_column(unique=True)
    survey: Mapped[str]
    title: Mapped[str]
    author: Mapped[str]
    owner: Mapped[str]
    set_id: Mapped[int | None] = mapped_column(refers("book_set.id"), index=True)
    volume: Mapped[int | None]
    pattern: Mapped[str]
    tolerance: Mapped[float | None]
    hours_estimated: Mapped[float | None]
    state: Mapped[str]
    condition: Mapped[str]
    note: Mapped[str]
    begun: Mapped[str]
    colour_family: Mapped[str] = added("")
    dated: Mapped[str] = added("")
    lab_results: Mapped[str] = added("[]")
    description: Mapped[str] = added("{}")
    care: Mapped[str] = added("{}")


class BookPhotoRow(TrackedBase):
    """A photograph of a volume."""

    __tablename__ = "repair_photo"

    repair_id: Mapped[int] = mapped_column(refers("repair.id"), index=True)
    position: Mapped[int]
    photo: Mapped[str] = mapped_column(refers("photo.sha256"))
    shows: Mapped[str]
    stage: Mapped[str]


class TargetRow(TrackedBase):
    """The colour that new cloth is to match at one place of a volume."""

    __tablename__ = "target_colour"

    repair_id: Mapped[int] = mapped_column(refers("repair.id"), index=True)
    position: Mapped[int]
    spot: Mapped[str]
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


class PartRow(TrackedBase):
    """One thing to cut for a repair.

    ``state`` is what was said of it; that it is reserved is told by ``reservation_id``.
    """

    __tablename__ = "part"
    __table_args__ = (
        CheckConstraint("width > 0 AND height > 0", name="size"),
        {"sqlite_autoincrement": True},
    )

    repair_id: Mapped[int] = mapped_column(refers("repair.id"), index=True)
    position: Mapped[int]
    role: Mapped[str]
    name: Mapped[str]
    number: Mapped[int]
    of: Mapped[int]
    layer: Mapped[str]
    width: Mapped[float]
    height: Mapped[float]
    kind: Mapped[str]
    material: Mapped[str]
    pattern: Mapped[str]
    turns: Mapped[str]
    zones: Mapped[str]
    estimated: Mapped[bool]
    lightness: Mapped[float | None]
    a: Mapped[float | None]
    b: Mapped[float | None]
    u: Mapped[float | None]
    tolerance: Mapped[float | None]
    width_sum: Mapped[str]
    height_sum: Mapped[str]
    sum_lines: Mapped[str]
    adhesives: Mapped[str]
    note: Mapped[str]
    state: Mapped[str]
    reservation_id: Mapped[int | None] = mapped_column(refers("reservation.id"), index=True)
    cut_from: Mapped[int | None] = mapped_column(refers("piece.id"), index=True)
    delta_e: Mapped[float | None]
    delta_u: Mapped[float | None]
    shade_of: Mapped[str] = added("")
    read_by: Mapped[str] = added("")


class AllowanceRow(TrackedBase):
    """One allowance set for all work, for a set, or for a volume."""

    __tablename__ = "allowance"

    set_id: Mapped[int | None] = mapped_column(refers("book_set.id"), index=True)
    repair_id: Mapped[int | None] = mapped_column(refers("repair.id"), index=True)
    key: Mapped[str]
    value: Mapped[float]


class TreatmentRow(TrackedBase):
    """One thing done to a volume."""

    __tablename__ = "treatment"

    repair_id: Mapped[int] = mapped_column(refers("repair.id"), index=True)
    at: Mapped[str]
    what: Mapped[str]
    undo: Mapped[str]
    hours: Mapped[float]
    part_id: Mapped[int | None] = mapped_column(refers("part.id"), index=True)
    piece_used: Mapped[int | None] = mapped_column(refers("piece.id"), index=True)
    lot_used: Mapped[int | None] = mapped_column(refers("adhesive_lot.id"), index=True)
    amount: Mapped[str]
    override: Mapped[str]
    done_on: Mapped[str | None]
    wet: Mapped[bool | None]


BOOK_ROWS: tuple[type[TrackedBase], ...] = (
    BookSetRow,
    RepairRow,
    BookPhotoRow,
    TargetRow,
    PartRow,
    AllowanceRow,
    TreatmentRow,
)
