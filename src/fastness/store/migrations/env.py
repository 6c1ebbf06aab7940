"""Run by Alembic: the steps go over the connection that `opening` hands over."""

from alembic import context

from fastness.store import shelf_tables  # noqa: F401 - its tables belong to the metadata
from fastness.store.tables import Table

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Table.metadata,
    # SQLite changes a table by copying it.
    render_as_batch=True,
)
with context.begin_transaction():
    context.run_migrations()
