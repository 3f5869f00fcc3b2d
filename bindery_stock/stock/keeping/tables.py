"""Settings that travel with the stock, and the numbers given out."""

from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import Base


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
