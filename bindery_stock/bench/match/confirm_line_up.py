"""Keeping what one photograph of a line-up said of every scrap in it."""

from bindery_stock.bench.deed import Bearing, deed
from bindery_stock.bench.match.line_up_photo import LineUpPhoto
from bindery_stock.bench.match.line_up_reading import LineUpAnswer
from bindery_stock.errors import EntryError
from bindery_stock.stock import Changes, NewConfirmation, Stockroom, Verb


@deed(Bearing.KEEPS)
def confirm_line_up(
    room: Stockroom, *, seen: LineUpPhoto, answer: LineUpAnswer, purpose: str, light: str
) -> Changes:
    """Archive the photograph and keep, in one step, what it said of every scrap that is told.

    What is not told, or lies back side up, is not kept. Raises ``EntryError`` for what cannot be
    kept and where nothing is told, ``PhotoError``, and ``NotFound``.
    """
    kept = answer.kept
    if not kept:
        raise EntryError(
            "Line-up", "Line-up: no scrap is told yet. Say which piece one of them is first."
        )
    width, height = seen.size
    archived = room.photos.archive(seen.photo, name=seen.name, width=width, height=height)
    number = f"{len(kept)} scraps" if len(kept) > 1 else kept[0].code
    name = f"Held {number} against {purpose.strip()}, {light.strip()}, in one photograph"
    with room.step(Verb.CONFIRMED, name) as step:
        for one in kept:
            room.pieces.confirm(
                one.code,
                NewConfirmation(
                    purpose=purpose,
                    light=light,
                    delta_e=one.comparison.delta_e,
                    u=one.comparison.u,
                    method=one.comparison.first.method,
                    photo=archived.sha256,
                    book_patches=answer.book_patches,
                    piece_patches=one.patches,
                ),
            )
    return step.changes
