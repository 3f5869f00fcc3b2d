"""What is done to a volume at the bench: photographed, worked on, closed."""

import zlib
from collections.abc import Iterable

from bindery_stock.bench.books.keep_survey import correct_survey, move_volume
from bindery_stock.bench.books.note_work import fit, note_work
from bindery_stock.bench.books.reserve_parts import leave_out
from bindery_stock.stock import BookPhoto, NewTreatment, PartState, Repair, RepairState
from sample_db.at_work import Bench
from sample_db.develop import QUALITY
from sample_db.hoard import Close, Shoot, Work
from sample_db.render import Sitting
from sample_db.volumes import name_of

_TURN = 89.0
"""The back lies along the picture, degrees."""


def kept(bench: Bench, shots: Iterable[Shoot]) -> tuple[BookPhoto, ...]:
    """Draw photographs of a volume and put them into the archive."""
    return tuple(_kept(bench, shot) for shot in shots)


def _kept(bench: Bench, shot: Shoot) -> BookPhoto:
    width, height = bench.size
    size = (width, width // 2) if shot.wide else (width, height)
    title = f"{name_of(shot.volume)} {shot.shows} {shot.stage}"
    seed = zlib.crc32(title.encode())
    drawn = shot.draw(Sitting(seed=seed, turn=_TURN, tilt=(seed % 5 * 1e-5, 4e-5), size=size))
    name = f"{title.replace('.', '').replace(' ', '-')}.jpg"
    photo = bench.room.photos.archive(drawn.jpeg(QUALITY), name=name, width=size[0], height=size[1])
    return BookPhoto(photo, shot.shows, shot.stage)


def volume(bench: Bench, number: int) -> Repair:
    """The volume of the set with this number."""
    return next(repair for repair in bench.room.books.repairs() if repair.volume == number)


def photographed(bench: Bench, shot: Shoot) -> str:
    """Add a photograph to a volume; gives the name of the step."""
    repair = volume(bench, shot.volume)
    photos = (*repair.photos, *kept(bench, [shot]))
    return correct_survey(bench.room, volume=repair.code, fields={"photos": photos}).step.name


def worked(bench: Bench, work: Work) -> str:
    """Write down what was done, and put the parts it names into the book."""
    repair = volume(bench, work.volume)
    parts = [p for p in bench.room.books.parts(volume=repair.code) if p.name in work.fits]
    piece = bench.codes[work.key] if work.key else next((p.piece for p in parts), None)
    done = NewTreatment(
        what=work.what,
        undo=work.undo,
        hours=work.hours,
        part=parts[0].id if parts else None,
        piece=piece,
        lot=bench.codes[work.tin] if work.tin else None,
        amount=work.amount,
        override=work.reason,
    )
    if parts:
        return fit(bench.room, parts=[part.id for part in parts], treatment=done).step.name
    return note_work(bench.room, volume=repair.code, treatment=done).step.name


def closed(bench: Bench, close: Close) -> str:
    """Leave out what was not wanted after all, and write that the volume is done."""
    repair = volume(bench, close.volume)
    waiting = [
        part.id
        for part in bench.room.books.parts(volume=repair.code)
        if part.state is PartState.WANTED
    ]
    if waiting:
        leave_out(bench.room, parts=waiting)
    done = move_volume(bench.room, volume=repair.code, state=RepairState.DONE, note=close.note)
    return done.step.name
