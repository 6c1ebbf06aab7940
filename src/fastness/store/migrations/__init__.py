"""The steps that bring a store from one version's tables to the next, run by Alembic."""
