"""What is kept of the erased: marks by which their names are known, and their numbers."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "erased",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("salt", sa.String(32), nullable=False),
        sa.Column("mark", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_erased"),
        sa.UniqueConstraint("mark", name="uq_erased_mark"),
    )
