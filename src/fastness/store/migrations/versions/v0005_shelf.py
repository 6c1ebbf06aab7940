"""The shelf: exercises, attempts at them, and the teacher's corrections of them."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Make the four tables."""
    op.create_table(
        "exercise",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("identity", sa.String(64), nullable=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("fen", sa.String(100), nullable=False),
        sa.Column("asked", sa.String(5)),
        sa.Column("accepted", sa.JSON, nullable=False),
        sa.Column("not_judged", sa.JSON, nullable=False),
        sa.Column("survey", sa.JSON, nullable=False),
        sa.Column("firm_units", sa.Boolean, nullable=False),
        sa.Column("replies", sa.JSON, nullable=False),
        sa.Column("made", sa.String(10), nullable=False),
        sa.Column("source", sa.JSON, nullable=False),
        sa.Column("pattern", sa.String(64), nullable=False),
        sa.Column("estimate", sa.Double, nullable=False),
        sa.Column("difficulty", sa.Double, nullable=False),
        sa.Column("error", sa.Double),
        sa.Column("level", sa.String(10), nullable=False),
        sa.Column("phase", sa.String(10), nullable=False),
        sa.Column("reach", sa.Integer),
        sa.Column("holding", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_exercise"),
        sa.UniqueConstraint("identity", name="uq_exercise_identity"),
    )
    op.create_index("ix_exercise_pattern", "exercise", ["pattern"])
    op.create_index("ix_exercise_level", "exercise", ["level"])
    _belonging(
        "exercise_trait",
        ("exercise",),
        sa.Column("name", sa.String(10), nullable=False),
        sa.Column("value", sa.String(30), nullable=False),
    )
    _belonging(
        "exercise_correction",
        ("exercise",),
        sa.Column("action", sa.String(10), nullable=False),
        sa.Column("answer", sa.String(10)),
        sa.Column("verdict", sa.String(10)),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("made", sa.Date, nullable=False),
    )
    _belonging(
        "attempt",
        ("student", "exercise"),
        sa.Column("made", sa.Date, nullable=False),
        sa.Column("answer", sa.JSON, nullable=False),
        sa.Column("verdict", sa.String(10), nullable=False),
        sa.Column("seconds", sa.Double),
    )


def _belonging(name: str, to: tuple[str, ...], *columns: sa.Column[object]) -> None:
    """A table whose rows go when what they belong to goes."""
    op.create_table(
        name,
        sa.Column("id", sa.Integer, nullable=False),
        *(sa.Column(f"{one}_id", sa.Integer, nullable=False) for one in to),
        *columns,
        sa.PrimaryKeyConstraint("id", name=f"pk_{name}"),
        *(
            sa.ForeignKeyConstraint(
                [f"{one}_id"], [f"{one}.id"], name=f"fk_{name}_{one}_id", ondelete="CASCADE"
            )
            for one in to
        ),
    )
    for one in to:
        op.create_index(f"ix_{name}_{one}_id", name, [f"{one}_id"])
