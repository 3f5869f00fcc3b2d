"""The first schema."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make every table, and the triggers that keep the ledger append-only."""
    op.create_table(
        "adhesive_lot",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("bought", sa.Text(), nullable=True),
        sa.Column("opened", sa.Text(), nullable=True),
        sa.Column("made", sa.Text(), nullable=True),
        sa.Column("expires", sa.Text(), nullable=True),
        sa.Column("quantity", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("storage", sa.Text(), nullable=False),
        sa.Column("frozen_once", sa.Boolean(), nullable=False),
        sa.Column("ph", sa.Double(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("finished", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_adhesive_lot")),
        sa.UniqueConstraint("code", name=op.f("uq_adhesive_lot_code")),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "code_series",
        sa.Column("letter", sa.Text(), nullable=False),
        sa.Column("last", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("letter", name=op.f("pk_code_series")),
    )
    op.create_table(
        "photo",
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("suffix", sa.Text(), nullable=False),
        sa.Column("archived_at", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_photo")),
    )
    op.create_table(
        "piece",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("form", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("fate", sa.Text(), nullable=False),
        sa.Column("pattern", sa.Text(), nullable=False),
        sa.Column("backing", sa.Text(), nullable=False),
        sa.Column("fibre", sa.Text(), nullable=False),
        sa.Column("outline", sa.Text(), nullable=False),
        sa.Column("flaws", sa.Text(), nullable=False),
        sa.Column("area", sa.Double(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("source_date", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("price", sa.Text(), nullable=True),
        sa.Column("parent_id", sa.Integer(), nullable=True),
        sa.Column("shelved_at", sa.Text(), nullable=False),
        sa.CheckConstraint("area > 0", name=op.f("ck_piece_area")),
        sa.ForeignKeyConstraint(
            ["parent_id"],
            ["piece.id"],
            name=op.f("fk_piece_parent_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_piece")),
        sa.UniqueConstraint("code", name=op.f("uq_piece_code")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_piece_parent_id"), "piece", ["parent_id"], unique=False)
    op.create_index(op.f("ix_piece_state"), "piece", ["state"], unique=False)

    op.create_table(
        "setting",
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_setting")),
    )
    op.create_table(
        "step",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("verb", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("codes", sa.Text(), nullable=False),
        sa.Column("undoes", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["undoes"],
            ["step.number"],
            name=op.f("fk_step_undoes"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_step")),
    )
    op.create_table(
        "colour_reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("lightness", sa.Double(), nullable=False),
        sa.Column("a", sa.Double(), nullable=False),
        sa.Column("b", sa.Double(), nullable=False),
        sa.Column("face", sa.Text(), nullable=False),
        sa.Column("spread", sa.Double(), nullable=False),
        sa.Column("u", sa.Double(), nullable=True),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("photo", sa.Text(), nullable=True),
        sa.Column("patch", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["photo"],
            ["photo.sha256"],
            name=op.f("fk_colour_reading_photo"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["piece_id"],
            ["piece.id"],
            name=op.f("fk_colour_reading_piece_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_colour_reading")),
        sqlite_autoincrement=True,
    )
    op.create_index(
        op.f("ix_colour_reading_piece_id"), "colour_reading", ["piece_id"], unique=False
    )

    op.create_table(
        "cutting",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("width", sa.Double(), nullable=False),
        sa.Column("height", sa.Double(), nullable=False),
        sa.Column("corners", sa.Text(), nullable=False),
        sa.Column("discarded", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["piece_id"],
            ["piece.id"],
            name=op.f("fk_cutting_piece_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_cutting")),
        sa.UniqueConstraint("piece_id", name=op.f("uq_cutting_piece_id")),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "movement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("step", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("before", sa.Text(), nullable=True),
        sa.Column("after", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["step"],
            ["step.number"],
            name=op.f("fk_movement_step"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_movement")),
    )
    op.create_index(op.f("ix_movement_step"), "movement", ["step"], unique=False)

    op.create_table(
        "photo_mark",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("photo", sa.Text(), nullable=False),
        sa.Column("to_mm", sa.Text(), nullable=False),
        sa.Column("scale_note", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["photo"],
            ["photo.sha256"],
            name=op.f("fk_photo_mark_photo"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.ForeignKeyConstraint(
            ["piece_id"],
            ["piece.id"],
            name=op.f("fk_photo_mark_piece_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photo_mark")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_photo_mark_piece_id"), "photo_mark", ["piece_id"], unique=False)

    op.create_table(
        "reservation",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("purpose", sa.Text(), nullable=False),
        sa.Column("width", sa.Double(), nullable=False),
        sa.Column("height", sa.Double(), nullable=False),
        sa.Column("corners", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["piece_id"],
            ["piece.id"],
            name=op.f("fk_reservation_piece_id"),
            initially="DEFERRED",
            deferrable=True,
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reservation")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_reservation_piece_id"), "reservation", ["piece_id"], unique=False)

    if op.get_bind().dialect.name == "sqlite":
        for table in ("step", "movement"):
            for change in ("UPDATE", "DELETE"):
                op.execute(
                    f"CREATE TRIGGER {table}_is_append_only_{change.lower()} "
                    f"BEFORE {change} ON {table} "
                    f"BEGIN SELECT RAISE(ABORT, 'the ledger is append-only'); END"
                )
