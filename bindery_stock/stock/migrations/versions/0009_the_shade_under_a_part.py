"""The shade of a part is kept with its band, and whether it is of the cloth under the part."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the columns: earlier versions kept the reading of the whole piece, without its band."""
    op.add_column("part", sa.Column("delta_u", sa.Double(), nullable=True))
    op.add_column("part", sa.Column("shade_of", sa.Text(), server_default="", nullable=False))
