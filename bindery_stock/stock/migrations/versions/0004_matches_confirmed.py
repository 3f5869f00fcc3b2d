"""Matches confirmed by book and scrap in one photograph."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add one table; what was there stays as it is."""
    op.create_table(
        "confirmation",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("light", sa.Text(), nullable=False),
        sa.Column("delta_e", sa.Double(), nullable=False),
        sa.Column("u", sa.Double(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("photo", sa.Text(), nullable=True),
        sa.Column("book_patches", sa.Text(), nullable=False),
        sa.Column("piece_patches", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        _refers("piece_id", "piece.id"),
        _refers("photo", "photo.sha256"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_confirmation")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_confirmation_piece_id"), "confirmation", ["piece_id"], unique=False)


def _refers(column: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        [column],
        [target],
        name=op.f(f"fk_confirmation_{column}"),
        initially="DEFERRED",
        deferrable=True,
    )
