"""Several parts cut from one piece in one sitting."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make room for further parts beside the first."""
    op.add_column("cutting", sa.Column("also", sa.Text(), server_default="[]", nullable=False))
