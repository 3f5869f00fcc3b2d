"""Questions about settings."""

from sqlalchemy import Connection, select

from bindery_stock.stock.keeping.tables import SettingRow


def setting(connection: Connection, key: str) -> str | None:
    """The value of a setting, or None where it was never set."""
    return connection.scalar(select(SettingRow.value).where(SettingRow.key == key))


def settings(connection: Connection) -> dict[str, str]:
    """Every setting by its key."""
    return {row.key: row.value for row in connection.execute(select(SettingRow.__table__))}
