"""What a class tried when a lesson was taught to it."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "taught",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("lesson", sa.String(200), nullable=False),
        sa.Column("held", sa.Date, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_taught"),
        sa.UniqueConstraint("number", name="uq_taught_number"),
    )
    op.create_index("ix_taught_lesson", "taught", ["lesson"])
    op.create_table(
        "taught_position",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("taught_id", sa.Integer, nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("start_fen", sa.String(100), nullable=False),
        sa.Column("moves", sa.Text, nullable=False),
        sa.Column("tries", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_taught_position"),
        sa.ForeignKeyConstraint(
            ["taught_id"], ["taught.id"], name="fk_taught_position_taught_id", ondelete="CASCADE"
        ),
        sa.UniqueConstraint("taught_id", "place", name="uq_taught_position_taught_id_place"),
    )
