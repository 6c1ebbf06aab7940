"""Homework: what was handed out, to whom, and what came back."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Make the four tables."""
    op.create_table(
        "homework",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("title", sa.String(200), nullable=False),
        sa.Column("made", sa.Date, nullable=False),
        sa.Column("due", sa.Date, nullable=False),
        sa.Column("language", sa.String(5), nullable=False),
        sa.Column("salt", sa.String(32), nullable=False),
        sa.Column("group_id", sa.Integer),
        sa.PrimaryKeyConstraint("id", name="pk_homework"),
        sa.UniqueConstraint("number", name="uq_homework_number"),
        sa.ForeignKeyConstraint(
            ["group_id"],
            ["student_group.id"],
            name="fk_homework_group_id",
            ondelete="SET NULL",
        ),
    )
    op.create_index("ix_homework_group_id", "homework", ["group_id"])
    _belonging(
        "homework_exercise",
        ("homework", "exercise"),
        sa.Column("place", sa.Integer, nullable=False),
        sa.UniqueConstraint("homework_id", "place", name="uq_homework_exercise_homework_id_place"),
    )
    _belonging(
        "homework_student",
        ("homework", "student"),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("key", sa.String(3), nullable=False),
        sa.UniqueConstraint("homework_id", "number", name="uq_homework_student_homework_id_number"),
        sa.UniqueConstraint(
            "homework_id", "student_id", name="uq_homework_student_homework_id_student_id"
        ),
    )
    _belonging(
        "hand_in",
        ("homework_student",),
        sa.Column("made", sa.Date, nullable=False),
        sa.Column("way", sa.String(10), nullable=False),
        sa.Column("answers", sa.JSON, nullable=False),
    )
    op.create_index("ix_homework_exercise_exercise_id", "homework_exercise", ["exercise_id"])
    op.create_index("ix_homework_student_student_id", "homework_student", ["student_id"])
    op.create_index("ix_hand_in_homework_student_id", "hand_in", ["homework_student_id"])


def _belonging(name: str, to: tuple[str, ...], *more: sa.schema.SchemaItem) -> None:
    """A table whose rows go when what they belong to goes."""
    op.create_table(
        name,
        sa.Column("id", sa.Integer, nullable=False),
        *(sa.Column(f"{one}_id", sa.Integer, nullable=False) for one in to),
        *more,
        sa.PrimaryKeyConstraint("id", name=f"pk_{name}"),
        *(
            sa.ForeignKeyConstraint(
                [f"{one}_id"], [f"{one}.id"], name=f"fk_{name}_{one}_id", ondelete="CASCADE"
            )
            for one in to
        ),
    )
