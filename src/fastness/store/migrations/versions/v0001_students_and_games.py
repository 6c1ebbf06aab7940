"""Students in groups, their names, their games, and what was found in these."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the first tables."""
    op.create_table(
        "student_group",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("club", sa.String(200), nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_student_group"),
        sa.UniqueConstraint("club", "name", name="uq_student_group_club_name"),
    )
    op.create_table(
        "student",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("group_id", sa.Integer),
        sa.PrimaryKeyConstraint("id", name="pk_student"),
        sa.ForeignKeyConstraint(
            ["group_id"],
            ["student_group.id"],
            name="fk_student_group_id",
            ondelete="SET NULL",
        ),
        sa.UniqueConstraint("name", name="uq_student_name"),
    )
    op.create_index("ix_student_group_id", "student", ["group_id"])
    op.create_table(
        "alias",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("student_id", sa.Integer, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("form", sa.String(200), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_alias"),
        sa.ForeignKeyConstraint(
            ["student_id"], ["student.id"], name="fk_alias_student_id", ondelete="CASCADE"
        ),
        sa.UniqueConstraint("form", name="uq_alias_form"),
    )
    op.create_index("ix_alias_student_id", "alias", ["student_id"])
    op.create_table(
        "game",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("identity", sa.String(64), nullable=False),
        sa.Column("date", sa.String(10), nullable=False),
        sa.Column("white", sa.String(200), nullable=False),
        sa.Column("black", sa.String(200), nullable=False),
        sa.Column("result", sa.String(7), nullable=False),
        sa.Column("start_fen", sa.String(100), nullable=False),
        sa.Column("moves", sa.Text, nullable=False),
        sa.Column("clocks", sa.JSON, nullable=False),
        sa.Column("tags", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_game"),
        sa.UniqueConstraint("identity", "date", name="uq_game_identity_date"),
    )
    op.create_index("ix_game_identity", "game", ["identity"])
    op.create_table(
        "seat",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("game_id", sa.Integer, nullable=False),
        sa.Column("colour", sa.String(5), nullable=False),
        sa.Column("student_id", sa.Integer, nullable=False),
        sa.Column("settings", sa.String(100)),
        sa.PrimaryKeyConstraint("id", name="pk_seat"),
        sa.ForeignKeyConstraint(
            ["game_id"], ["game.id"], name="fk_seat_game_id", ondelete="CASCADE"
        ),
        sa.ForeignKeyConstraint(
            ["student_id"], ["student.id"], name="fk_seat_student_id", ondelete="CASCADE"
        ),
        sa.UniqueConstraint("game_id", "colour", name="uq_seat_game_id_colour"),
    )
    op.create_index("ix_seat_student_id", "seat", ["student_id"])
    op.create_table(
        "occasion",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("seat_id", sa.Integer, nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("ply", sa.Integer, nullable=False),
        sa.Column("kind", sa.String(10), nullable=False),
        sa.Column("outcome", sa.String(20), nullable=False),
        sa.Column("told", sa.JSON, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_occasion"),
        sa.ForeignKeyConstraint(
            ["seat_id"], ["seat.id"], name="fk_occasion_seat_id", ondelete="CASCADE"
        ),
        sa.UniqueConstraint("seat_id", "place", name="uq_occasion_seat_id_place"),
    )
    op.create_index("ix_occasion_kind_outcome", "occasion", ["kind", "outcome"])
