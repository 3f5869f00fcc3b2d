"""The table of the photographs in the archive."""

from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import Base


class PhotoRow(Base):
    """One original in the photo archive. A row is added once and stays."""

    __tablename__ = "photo"

    sha256: Mapped[str] = mapped_column(primary_key=True)
    name: Mapped[str]
    width: Mapped[int]
    height: Mapped[int]
    suffix: Mapped[str]
    archived_at: Mapped[str]
