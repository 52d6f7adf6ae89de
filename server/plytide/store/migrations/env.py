"""Alembic's entry point: runs the steps on the connection that migrate.py hands over, inside its transaction."""

from alembic import context
from sqlmodel import SQLModel

import plytide.store.tables  # noqa: F401 - registers the tables

context.configure(connection=context.config.attributes["connection"], target_metadata=SQLModel.metadata)
context.run_migrations()
