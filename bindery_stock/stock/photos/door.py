"""The photographs in the archive: what is asked of them, and keeping one."""

from pathlib import Path

from sqlalchemy import insert

from bindery_stock.errors import DiskTrouble
from bindery_stock.stock import checks
from bindery_stock.stock.door import Group
from bindery_stock.stock.keeping import photo_archive
from bindery_stock.stock.keeping.layout import PHOTOS
from bindery_stock.stock.photos import questions as photo_questions
from bindery_stock.stock.photos import rows as photo_rows
from bindery_stock.stock.photos.tables import PhotoRow
from bindery_stock.stock.photos.values import Photo


class Photos(Group):
    """The originals; what is kept once stays."""

    def get(self, sha256: str) -> Photo:
        """A photograph by the hash of its content. Raises ``NotFound``."""
        found: Photo = self._ask(photo_questions.photo, sha256)
        return found

    def listed(self) -> list[Photo]:
        """Every photograph in the archive, the latest first."""
        found: list[Photo] = self._ask(photo_questions.photos)
        return found

    def path(self, photo: Photo | str) -> Path:
        """Where the original of a photograph, or of the one with this hash, lies.

        A photograph in hand need not be asked for. Raises ``NotFound`` for a hash that is not
        there, and ``DiskTrouble`` where the original is gone.
        """
        if isinstance(photo, str):
            photo = self.get(photo)
        path = photo_archive.path_of(self._door.folder / PHOTOS, photo)
        if not path.is_file():
            raise DiskTrouble(
                f"The original of {photo.name} is missing from {self._door.folder / PHOTOS}. "
                "Add the photograph again and it will be put back."
            )
        return path

    def archive(self, source: Path | bytes, *, name: str, width: int, height: int) -> Photo:
        """Keep an original for good, named by the SHA-256 of its content.

        ``name`` is the file's name as the user knows it; ``width`` and ``height`` are the pixels
        of the upright photograph. It is no step of the ledger: taking back a step leaves the
        original where it is. The same content is kept once; a missing original is put back.
        Raises ``PhotoError`` where the source cannot be read, ``DiskTrouble``.
        """
        checks.words(name, "Photograph")
        for value, side in ((width, "Width"), (height, "Height")):
            checks.size(value, f"{side} of {name}")
        photos = self._door.folder / PHOTOS
        with (
            self._door.unlogged() as session,
            photo_archive.taken_in(photos, source, name) as (incoming, sha256),
        ):
            photo = photo_questions.photo_or_none(session.connection(), sha256)
            new = photo is None
            photo = photo or Photo(sha256, name, width, height, photo_archive.suffix_of(name))
            photo_archive.put_away(incoming, photos, photo)
            if new:
                at = self._door.clock().isoformat()
                session.execute(
                    insert(PhotoRow).values(**photo_rows.photo_columns(photo), archived_at=at)
                )
        return photo
