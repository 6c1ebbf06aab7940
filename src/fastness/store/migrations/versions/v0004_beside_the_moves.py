"""What stands beside the moves of a game, and the seconds spent on each."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    """Add the two columns."""
    for name in ("spent", "beside"):
        op.add_column("game", sa.Column(name, sa.JSON, nullable=False, server_default="[]"))
