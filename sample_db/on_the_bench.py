"""The set of the sample on the bench: surveyed, and its parts planned."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from bindery_stock.bench.books.enter_set import enter_set
from bindery_stock.bench.books.keep_survey import survey
from bindery_stock.colour import Neutral, ReadBy, measure_in_sitting
from bindery_stock.stock import (
    BookPart,
    BookPhoto,
    BookSpot,
    Colour,
    ColourSought,
    NewBookSet,
    NewRepair,
    PartState,
    View,
)
from bindery_stock.trade.care import NOTHING_AGREED
from bindery_stock.trade.description import Description
from sample_db.at_work import Bench
from sample_db.develop import Negative, book_negatives
from sample_db.hoard import Found
from sample_db.treating import kept
from sample_db.volumes import AUTHOR, PHOTOGRAPHED, SET_TITLE, SetVolume, name_of

PATTERN, COLOUR, BOUND = "rib", "red", "c. 1878"
OWNER = "Dunnockmere reading room"
BINDING = Description(
    imprint="Dunnockmere: printed for the subscribers",
    imprint_date="1878",
    covering="full cloth",
    boards="strawboard, square edges",
    sewing="two on, on sunk cords",
    spine="rounded and backed, hollow back",
    endpapers="coated yellow",
    edges="cut, plain",
    decoration="title and a wreath in gold on the spine, lines in blind on the sides",
)
"""All volumes of the set were bound alike."""
_FRESH, _SUNNED = (33.0, 33.0, 17.0), (43.0, 21.0, 15.0)
"""The red of the boards, and of a back that stood in the light for a hundred years."""
_UNCERTAIN = 1.2
"""95 % uncertainty of a reading typed in from an instrument, ΔE00."""


def surveyed(
    bench: Bench,
    volumes: Sequence[SetVolume],
    found: Mapping[int, Found],
    *,
    hands: int | None,
) -> Iterator[str]:
    """Enter the set and each volume, and plan what must be cut for it."""
    if not volumes:
        return
    first = volumes[0].survey
    shared = (
        "board_height",
        "board_width",
        "board_thickness",
        "joint",
        "leaf_height",
        "leaf_width",
    )
    changes = enter_set(
        bench.room,
        new=NewBookSet(
            title=SET_TITLE,
            author=AUTHOR,
            pattern=PATTERN,
            note="A reading set: every back has stood in the sun, some more than others.",
            owner=OWNER,
            colour_family=COLOUR,
            dated=BOUND,
            description=BINDING,
            shared={name: getattr(first, name) for name in shared},
        ),
    )
    yield changes.step.name
    shots = _shots(bench, volumes, hands)
    for volume in volumes:
        photos, read = shots.get(volume.number, ((), None))
        as_found = found.get(volume.number)
        if as_found is not None and as_found.shots:
            photos = kept(bench, as_found.shots)
        repair = NewRepair(
            name=name_of(volume.number),
            title=volume.title,
            author=AUTHOR,
            survey=volume.survey,
            book_set=changes.born[0],
            volume=volume.number,
            pattern=PATTERN,
            colour_family=COLOUR,
            dated=BOUND,
            tolerance=8.0,
            owner=as_found.owner if as_found else OWNER,
            condition=as_found.condition if as_found else "",
            hours_estimated=as_found.hours_estimated if as_found else None,
            description=_described(as_found),
            care=as_found.care if as_found else NOTHING_AGREED,
            photos=photos,
            targets=(
                ColourSought(BookSpot.SPINE, read or _typed(_between(volume.number))),
                ColourSought(BookSpot.BOARDS, _typed(_FRESH)),
            ),
        )
        yield survey(bench.room, new=repair).step.name


def _described(found: Found | None) -> Description:
    """The binding of the set, with what is this copy's own."""
    if found is None:
        return BINDING
    return replace(BINDING, shelfmark=found.shelfmark, former_repairs=found.former_repairs)


def _between(number: int) -> tuple[float, float, float]:
    """The colour of a back, more or less sunned."""
    share = (number * 7 % 11) / 10
    lightness, a, b = (
        round(fresh + (sunned - fresh) * share, 1)
        for fresh, sunned in zip(_FRESH, _SUNNED, strict=True)
    )
    return (lightness, a, b)


def _typed(lab: tuple[float, float, float]) -> Colour:
    return Colour(
        lab, u=_UNCERTAIN, method="typed in from an instrument", read_by=ReadBy.INSTRUMENT
    )


def _shots(
    bench: Bench, volumes: Sequence[SetVolume], hands: int | None
) -> dict[int, tuple[tuple[BookPhoto, ...], Colour | None]]:
    """The photographs of the volumes that have some, and the colour read from the back."""
    numbers = {name_of(volume.number): volume.number for volume in volumes}
    shown = {name: look for name, look in PHOTOGRAPHED.items() if name in numbers}
    negatives = iter(book_negatives(shown, bench.size, hands=hands))
    found: dict[int, tuple[tuple[BookPhoto, ...], Colour | None]] = {}
    for name in shown:
        board, back = next(negatives), next(negatives)
        photos = (_kept(bench, back, View.SPINE), _kept(bench, board, View.FRONT))
        found[numbers[name]] = (photos, _read(bench, back, photos[0]))
    return found


def _kept(bench: Bench, negative: Negative, view: View) -> BookPhoto:
    width, height = negative.size
    photo = bench.room.photos.archive(negative.data, name=negative.name, width=width, height=height)
    return BookPhoto(photo, view)


def _read(bench: Bench, negative: Negative, shot: BookPhoto) -> Colour:
    truth = negative.truth
    reading = measure_in_sitting(
        bench.room.photos.path(shot.photo.sha256),
        truth.patch_px,
        bench.sitting,
        neutral=Neutral(truth.card_px, truth.card_lab),
    )
    lightness, a, b = (round(value, 3) for value in reading.lab)
    return Colour(
        lab=(lightness, a, b),
        spread=round(reading.spread, 3),
        u=None if reading.u is None else round(reading.u, 3),
        method=reading.method,
        photo=shot.photo.sha256,
        patch=truth.patch_px,
        read_by=reading.read_by,
    )


def part_for(bench: Bench, purpose: str) -> BookPart | None:
    """The part of a volume that is cut for this purpose, while it waits or is reserved."""
    open_states = (PartState.WANTED, PartState.RESERVED)
    return next(
        (p for p in bench.room.books.parts() if p.purpose == purpose and p.state in open_states),
        None,
    )
