"""Questions about the photographs in the archive."""

from sqlalchemy import Connection, select

from bindery_stock.errors import NotFound
from bindery_stock.stock.photos import rows as photo_rows
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.stock.photos.values import Photo


def photo_or_none(connection: Connection, sha256: str) -> Photo | None:
    """The photograph with this hash, or None."""
    row = connection.execute(select(PhotoRow.__table__).where(PhotoRow.sha256 == sha256)).first()
    return None if row is None else photo_rows.photo_of(row)


def photo(connection: Connection, sha256: str) -> Photo:
    """The photograph with this hash, or ``NotFound``."""
    found = photo_or_none(connection, sha256)
    if found is None:
        raise NotFound(f"The photograph {sha256[:12]}… is not in this stockroom. Add it first.")
    return found


def photos(connection: Connection) -> list[Photo]:
    """Every photograph in the archive, the latest first."""
    asked = select(PhotoRow.__table__).order_by(PhotoRow.archived_at.desc(), PhotoRow.sha256)
    return [photo_rows.photo_of(row) for row in connection.execute(asked)]
