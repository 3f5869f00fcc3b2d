"""The tables of the ledger; rows are only ever added."""

from sqlalchemy import DDL, event
from sqlalchemy.orm import Mapped, mapped_column

from bindery_stock.stock.table_base import Base, refers


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
