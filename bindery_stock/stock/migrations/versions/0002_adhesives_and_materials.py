"""Lots with quantities, parts and uses; tested properties; the wanted list and reorder points."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add what lots and pieces had no room for, and four tables."""
    for table, column, default in (
        ("piece", "colour_family", ""),
        ("piece", "properties", "[]"),
        ("piece", "lab_results", "[]"),
        ("adhesive_lot", "reference", ""),
        ("adhesive_lot", "properties", "[]"),
        ("adhesive_lot", "fate", ""),
    ):
        op.add_column(table, sa.Column(column, sa.Text(), server_default=default, nullable=False))
    for column, kind in (
        ("received", sa.Text()),
        ("unit", sa.Text()),
        ("held", sa.Double()),
        ("left", sa.Double()),
    ):
        op.add_column("adhesive_lot", sa.Column(column, kind, nullable=True))
    op.create_table(
        "lot_part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        _refers("lot_part", "lot_id", "adhesive_lot.id"),
        _refers("lot_part", "part_id", "adhesive_lot.id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot_part")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_lot_part_lot_id"), "lot_part", ["lot_id"], unique=False)
    op.create_table(
        "lot_use",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=False),
        sa.Column("use", sa.Text(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("amount", sa.Double(), nullable=True),
        sa.Column("unit", sa.Text(), nullable=True),
        sa.Column("laid_on_id", sa.Integer(), nullable=True),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("override_reason", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        _refers("lot_use", "lot_id", "adhesive_lot.id"),
        _refers("lot_use", "laid_on_id", "piece.id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot_use")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_lot_use_lot_id"), "lot_use", ["lot_id"], unique=False)
    op.create_table(
        "wanted",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("width", sa.Double(), nullable=True),
        sa.Column("height", sa.Double(), nullable=True),
        sa.Column("lightness", sa.Double(), nullable=True),
        sa.Column("a", sa.Double(), nullable=True),
        sa.Column("b", sa.Double(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("since", sa.Text(), nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wanted")),
        sa.UniqueConstraint("code", name=op.f("uq_wanted_code")),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "reorder_point",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("least", sa.Double(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reorder_point")),
        sa.UniqueConstraint("kind", name=op.f("uq_reorder_point_kind")),
        sqlite_autoincrement=True,
    )


def _refers(table: str, column: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        [column],
        [target],
        name=op.f(f"fk_{table}_{column}"),
        initially="DEFERRED",
        deferrable=True,
    )
