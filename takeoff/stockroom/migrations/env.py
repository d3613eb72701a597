"""Run by Alembic: brings the database at the other end of a connection up to date."""

from alembic import context

from takeoff.stockroom.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    transactional_ddl=False,  # the transaction is the caller's
)
context.run_migrations()
