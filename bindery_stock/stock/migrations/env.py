"""Runs the migrations on the connection handed in.

The connection comes from ``stock.keeping.disk.engine``, which takes BEGIN away from the driver; on
one of the driver's own, table changes would survive a rollback.
"""

from alembic import context

from bindery_stock.stock.tables import TRACKED

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=TRACKED["piece"].metadata,
    transactional_ddl=True,
    render_as_batch=True,
    compare_type=True,
)
with context.begin_transaction():
    context.run_migrations()
