"""The target kept for a sitting, and the binder's own values for their target.

A correction is not kept as figures: the photograph of the target is archived and its corners
noted, so that the correction can be found again, and seen again, at any time.
"""

import json
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from bindery_stock.bench.colour_room.target_fit import target_at
from bindery_stock.colour import EDITIONS, Reference, Sitting, begin_sitting
from bindery_stock.errors import BinderyError
from bindery_stock.shape import Ring
from bindery_stock.stock import Stockroom

LIGHTS: Final = (
    "overcast window",
    "two lamps at 45°",
    "reading lamp",
    "daylight lamp",
)
"""Words offered for a light; any other may be typed."""
SITTING: Final = "colour.sitting"
OWN_VALUES: Final = "colour.target values"


@dataclass(frozen=True, slots=True)
class KeptTarget:
    """The photograph of a target whose correction is lent to others of its sitting."""

    photo: Path
    name: str
    """The photograph's name, for the user."""
    corners: Ring
    reference: Reference
    light: str
    """In the binder's words."""
    camera: str
    """As the photograph names it; may be empty."""

    @property
    def words(self) -> str:
        """Which target, under which light, taken with which camera."""
        light = f", {self.light}" if self.light else ""
        return f"the target in “{self.name}”{light}, {self.camera or 'camera not named'}"


def keep_target(
    stockroom: Stockroom,
    photo: Path,
    *,
    name: str,
    size: tuple[int, int],
    corners: Ring,
    reference: Reference,
    light: str,
    camera: str,
) -> KeptTarget:
    """Archive the photograph of a target and keep it for the sitting.

    ``size`` is the upright photograph's in pixels. Raises ``StockError`` where it cannot be kept.
    """
    archived = stockroom.photos.archive(photo, name=name, width=size[0], height=size[1])
    written = {
        "photo": archived.sha256,
        "corners": corners,
        "reference": _reference_out(reference),
        "light": light.strip(),
        "camera": camera,
    }
    stockroom.keeping.set_setting(SITTING, json.dumps(written, ensure_ascii=False))
    return KeptTarget(
        stockroom.photos.path(archived.sha256),
        archived.name,
        corners,
        reference,
        light.strip(),
        camera,
    )


def kept_target(stockroom: Stockroom) -> KeptTarget | None:
    """The target kept for the sitting, or None where there is none or its photograph is gone."""
    return target_in(stockroom, stockroom.keeping.setting(SITTING))


def target_in(stockroom: Stockroom, text: str | None) -> KeptTarget | None:
    """The target of the setting ``SITTING``, or None as for ``kept_target``."""
    if not text:
        return None
    written: dict[str, Any] = json.loads(text)
    try:
        photo = stockroom.photos.get(written["photo"])
        path = stockroom.photos.path(photo.sha256)
    except BinderyError:
        # The check of the stockroom tells of a missing original; here it only cannot be lent.
        return None
    return KeptTarget(
        path,
        photo.name,
        tuple((x, y) for x, y in written["corners"]),
        _reference_in(written["reference"]),
        written["light"],
        written["camera"],
    )


def end_sitting(stockroom: Stockroom) -> None:
    """Lend the kept target's correction no longer."""
    stockroom.keeping.set_setting(SITTING, "")


@lru_cache(maxsize=2)
def sitting_of(kept: KeptTarget) -> Sitting:
    """The correction found again from the photograph kept.

    Takes a second or two the first time. Raises ``PhotoError`` and ``ColourError``.
    """
    return begin_sitting(kept.photo, target_at(kept.corners, kept.reference))


def editions(stockroom: Stockroom) -> tuple[Reference, ...]:
    """The values a target may be held against: the published editions, then the binder's own."""
    return editions_in(stockroom.keeping.setting(OWN_VALUES))


def editions_in(text: str | None) -> tuple[Reference, ...]:
    """The values of the setting ``OWN_VALUES`` after the published ones."""
    return (*EDITIONS, _reference_in(json.loads(text))) if text else EDITIONS


def keep_values(stockroom: Stockroom, reference: Reference) -> None:
    """Keep the binder's own values for their target, in the place of those kept before."""
    stockroom.keeping.set_setting(
        OWN_VALUES, json.dumps(_reference_out(reference), ensure_ascii=False)
    )


def _reference_out(reference: Reference) -> Any:
    """A published edition by its source, others by their values."""
    if reference in EDITIONS:
        return reference.source
    return {"source": reference.source, "labs": reference.labs}


def _reference_in(written: Any) -> Reference:
    if isinstance(written, str):
        return next(edition for edition in EDITIONS if edition.source == written)
    return Reference(tuple((lo, a, b) for lo, a, b in written["labs"]), written["source"])
