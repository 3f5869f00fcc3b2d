"""What all tables share."""

from typing import Any

from sqlalchemy import Double, ForeignKey, MetaData, Text
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column


class Base(DeclarativeBase):
    """The root of all tables."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_name)s",
            "uq": "uq_%(table_name)s_%(column_0_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    type_annotation_map: Any = {str: Text(), float: Double()}  # noqa: RUF012 - read by SQLAlchemy


def refers(target: str) -> ForeignKey:
    """A reference that is checked when the transaction ends."""
    return ForeignKey(target, deferrable=True, initially="DEFERRED")


class TrackedBase(Base):
    """A table whose every change is written into the ledger."""

    __abstract__ = True
    __table_args__: Any = {"sqlite_autoincrement": True}  # noqa: RUF012 - read by SQLAlchemy

    id: Mapped[int] = mapped_column(primary_key=True, sort_order=-1)


def added(default: str) -> Any:
    """A text column that came with a later schema: older rows take the default."""
    return mapped_column(default=default, server_default=default)
