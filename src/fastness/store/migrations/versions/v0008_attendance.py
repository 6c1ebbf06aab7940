"""Who was there at a lesson."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "attendance",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("lesson_id", sa.Integer, nullable=False),
        sa.Column("student_id", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_attendance"),
        sa.ForeignKeyConstraint(
            ["lesson_id"], ["lesson.id"], name="fk_attendance_lesson_id", ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["student_id"], ["student.id"], name="fk_attendance_student_id", ondelete="CASCADE"
        ),
        sa.UniqueConstraint("lesson_id", "student_id", name="uq_attendance_lesson_id_student_id"),
    )
    op.create_index("ix_attendance_student_id", "attendance", ["student_id"])
