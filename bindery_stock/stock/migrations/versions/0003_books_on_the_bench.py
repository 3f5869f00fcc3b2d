"""Sets and volumes on the bench, their parts, allowances and treatment."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add seven tables; what was there stays as it is."""
    op.create_table(
        "book_set",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("pattern", sa.Text(), nullable=False),
        sa.Column("shared", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_book_set")),
        sa.UniqueConstraint("code", name=op.f("uq_book_set_code")),
        sqlite_autoincrement=True,
    )
    op.create_table(
        "repair",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("survey", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("owner", sa.Text(), nullable=False),
        sa.Column("set_id", sa.Integer(), nullable=True),
        sa.Column("volume", sa.Integer(), nullable=True),
        sa.Column("pattern", sa.Text(), nullable=False),
        sa.Column("tolerance", sa.Double(), nullable=True),
        sa.Column("hours_estimated", sa.Double(), nullable=True),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("condition", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("begun", sa.Text(), nullable=False),
        _refers("repair", "set_id", "book_set.id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_repair")),
        sa.UniqueConstraint("code", name=op.f("uq_repair_code")),
        sa.UniqueConstraint("name", name=op.f("uq_repair_name")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_repair_set_id"), "repair", ["set_id"], unique=False)
    op.create_table(
        "repair_photo",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("repair_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("photo", sa.Text(), nullable=False),
        sa.Column("shows", sa.Text(), nullable=False),
        sa.Column("stage", sa.Text(), nullable=False),
        _refers("repair_photo", "repair_id", "repair.id"),
        _refers("repair_photo", "photo", "photo.sha256"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_repair_photo")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_repair_photo_repair_id"), "repair_photo", ["repair_id"], unique=False)
    op.create_table(
        "target_colour",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("repair_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("spot", sa.Text(), nullable=False),
        sa.Column("lightness", sa.Double(), nullable=False),
        sa.Column("a", sa.Double(), nullable=False),
        sa.Column("b", sa.Double(), nullable=False),
        sa.Column("face", sa.Text(), nullable=False),
        sa.Column("spread", sa.Double(), nullable=False),
        sa.Column("u", sa.Double(), nullable=True),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("photo", sa.Text(), nullable=True),
        sa.Column("patch", sa.Text(), nullable=False),
        _refers("target_colour", "repair_id", "repair.id"),
        _refers("target_colour", "photo", "photo.sha256"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_target_colour")),
        sqlite_autoincrement=True,
    )
    op.create_index(
        op.f("ix_target_colour_repair_id"), "target_colour", ["repair_id"], unique=False
    )
    op.create_table(
        "part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("repair_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("of", sa.Integer(), nullable=False),
        sa.Column("layer", sa.Text(), nullable=False),
        sa.Column("width", sa.Double(), nullable=False),
        sa.Column("height", sa.Double(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("material", sa.Text(), nullable=False),
        sa.Column("pattern", sa.Text(), nullable=False),
        sa.Column("turns", sa.Text(), nullable=False),
        sa.Column("zones", sa.Text(), nullable=False),
        sa.Column("estimated", sa.Boolean(), nullable=False),
        sa.Column("lightness", sa.Double(), nullable=True),
        sa.Column("a", sa.Double(), nullable=True),
        sa.Column("b", sa.Double(), nullable=True),
        sa.Column("u", sa.Double(), nullable=True),
        sa.Column("tolerance", sa.Double(), nullable=True),
        sa.Column("width_sum", sa.Text(), nullable=False),
        sa.Column("height_sum", sa.Text(), nullable=False),
        sa.Column("sum_lines", sa.Text(), nullable=False),
        sa.Column("adhesives", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("reservation_id", sa.Integer(), nullable=True),
        sa.Column("cut_from", sa.Integer(), nullable=True),
        sa.Column("delta_e", sa.Double(), nullable=True),
        sa.CheckConstraint("width > 0 AND height > 0", name=op.f("ck_part_size")),
        _refers("part", "repair_id", "repair.id"),
        _refers("part", "reservation_id", "reservation.id"),
        _refers("part", "cut_from", "piece.id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_part_repair_id"), "part", ["repair_id"], unique=False)
    op.create_index(op.f("ix_part_reservation_id"), "part", ["reservation_id"], unique=False)
    op.create_index(op.f("ix_part_cut_from"), "part", ["cut_from"], unique=False)
    op.create_table(
        "allowance",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("set_id", sa.Integer(), nullable=True),
        sa.Column("repair_id", sa.Integer(), nullable=True),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("value", sa.Double(), nullable=False),
        _refers("allowance", "set_id", "book_set.id"),
        _refers("allowance", "repair_id", "repair.id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_allowance")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_allowance_set_id"), "allowance", ["set_id"], unique=False)
    op.create_index(op.f("ix_allowance_repair_id"), "allowance", ["repair_id"], unique=False)
    op.create_table(
        "treatment",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("repair_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("undo", sa.Text(), nullable=False),
        sa.Column("hours", sa.Double(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=True),
        sa.Column("piece_used", sa.Integer(), nullable=True),
        sa.Column("lot_used", sa.Integer(), nullable=True),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("override", sa.Text(), nullable=False),
        _refers("treatment", "repair_id", "repair.id"),
        _refers("treatment", "part_id", "part.id"),
        _refers("treatment", "piece_used", "piece.id"),
        _refers("treatment", "lot_used", "adhesive_lot.id"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_treatment")),
        sqlite_autoincrement=True,
    )
    op.create_index(op.f("ix_treatment_repair_id"), "treatment", ["repair_id"], unique=False)
    op.create_index(op.f("ix_treatment_part_id"), "treatment", ["part_id"], unique=False)
    op.create_index(op.f("ix_treatment_piece_used"), "treatment", ["piece_used"], unique=False)
    op.create_index(op.f("ix_treatment_lot_used"), "treatment", ["lot_used"], unique=False)


def _refers(table: str, column: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        [column],
        [target],
        name=op.f(f"fk_{table}_{column}"),
        initially="DEFERRED",
        deferrable=True,
    )
