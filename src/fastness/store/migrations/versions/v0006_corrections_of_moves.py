"""A correction may be of a single move."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Give a correction its move."""
    op.add_column("correction", sa.Column("move", sa.String(5)))
