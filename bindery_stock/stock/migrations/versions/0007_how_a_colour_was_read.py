"""What vouches for a colour is kept with it; empty where an earlier version read it."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns; a step of the ledger fills them when the stockroom is opened."""
    for table in ("colour_reading", "target_colour", "part"):
        op.add_column(table, sa.Column("read_by", sa.Text(), server_default="", nullable=False))
