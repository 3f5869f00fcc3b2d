"""A volume is judged as a piece is, work may be noted for a day that is past, rulings are kept."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add columns whose default says that nothing is known, and one table."""
    for name, default in (("colour_family", ""), ("dated", ""), ("lab_results", "[]")):
        op.add_column("repair", sa.Column(name, sa.Text(), server_default=default, nullable=False))
    op.add_column("treatment", sa.Column("done_on", sa.Text(), nullable=True))
    op.add_column("treatment", sa.Column("wet", sa.Boolean(), nullable=True))
    op.create_table(
        "ruling",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("deed", sa.Text(), nullable=False),
        sa.Column("leave", sa.Text(), nullable=False),
        sa.Column("rules", sa.Text(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.Column("lot_id", sa.Integer(), nullable=True),
        sa.Column("repair_id", sa.Integer(), nullable=True),
        sa.Column("at", sa.Text(), nullable=False),
        _refers("piece_id", "piece.id"),
        _refers("lot_id", "adhesive_lot.id"),
        _refers("repair_id", "repair.id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ruling")),
        sqlite_autoincrement=True,
    )
    for column in ("piece_id", "lot_id", "repair_id"):
        op.create_index(op.f(f"ix_ruling_{column}"), "ruling", [column], unique=False)


def _refers(column: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        [column],
        [target],
        name=op.f(f"fk_ruling_{column}"),
        initially="DEFERRED",
        deferrable=True,
    )
