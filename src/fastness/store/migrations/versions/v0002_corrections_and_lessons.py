"""The teacher's corrections, and the dates of lessons."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Make the two tables."""
    op.create_table(
        "correction",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("game_id", sa.Integer, nullable=False),
        sa.Column("ply", sa.Integer, nullable=False),
        sa.Column("kind", sa.String(10), nullable=False),
        sa.Column("action", sa.String(10), nullable=False),
        sa.Column("outcome", sa.String(20)),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("made", sa.Date, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_correction"),
        sa.ForeignKeyConstraint(
            ["game_id"], ["game.id"], name="fk_correction_game_id", ondelete="CASCADE"
        ),
    )
    op.create_index("ix_correction_game_id", "correction", ["game_id"])
    op.create_table(
        "lesson",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("group_id", sa.Integer, nullable=False),
        sa.Column("held", sa.Date, nullable=False),
        sa.Column("theme", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_lesson"),
        sa.ForeignKeyConstraint(
            ["group_id"],
            ["student_group.id"],
            name="fk_lesson_group_id",
            ondelete="CASCADE",
        ),
    )
    op.create_index("ix_lesson_group_id", "lesson", ["group_id"])
