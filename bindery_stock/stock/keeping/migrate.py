"""Bringing a database to the schema of today, step by step, in one transaction."""

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection

from bindery_stock.stock.keeping.disk import APPLICATION_ID

if TYPE_CHECKING:
    from alembic.config import Config

SCHEMA = 9
"""The schema number of today, kept in the file's ``user_version``."""

_SCRIPTS = Path(__file__).parent.parent / "migrations"


def script(connection: Connection) -> "Config":
    """Alembic's configuration for the database at the other end of ``connection``."""
    from alembic.config import Config  # noqa: PLC0415 - at first use

    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    return config


def upgrade_to(connection: Connection, schema: str) -> None:
    """Run every migration that is missing up to ``schema``, such as ``0003`` or ``head``.

    The caller's transaction holds them all.
    """
    from alembic import command  # noqa: PLC0415 - at first use

    command.upgrade(script(connection), schema)


def upgrade(connection: Connection) -> None:
    """Run every migration that is missing. The caller's transaction holds them all."""
    upgrade_to(connection, "head")
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.exec_driver_sql(f"PRAGMA user_version = {SCHEMA}")
