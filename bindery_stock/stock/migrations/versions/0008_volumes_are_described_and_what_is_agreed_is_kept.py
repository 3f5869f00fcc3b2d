"""A volume is described as a copy; what was examined, weighed and agreed is kept with it."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

_ADDED = (
    ("book_set", "owner", ""),
    ("book_set", "colour_family", ""),
    ("book_set", "dated", ""),
    ("book_set", "description", "{}"),
    ("repair", "description", "{}"),
    ("repair", "care", "{}"),
)


def upgrade() -> None:
    """Add columns whose default says that nothing is known."""
    for table, name, default in _ADDED:
        op.add_column(table, sa.Column(name, sa.Text(), server_default=default, nullable=False))
