"""Rows of the archive's table into plain values, and back."""

from typing import Any

from bindery_stock.stock.photos.values import Photo
from bindery_stock.stock.stored import AnyRow, reads


@reads("The photograph", by="sha256")
def photo_of(row: AnyRow) -> Photo:
    """A photograph from its row."""
    return Photo(row.sha256, row.name, row.width, row.height, row.suffix)


def photo_columns(photo: Photo) -> dict[str, Any]:
    """The columns of ``photo`` for one photograph."""
    return {
        "sha256": photo.sha256,
        "name": photo.name,
        "width": int(photo.width),
        "height": int(photo.height),
        "suffix": photo.suffix,
    }
