"""The two volumes of the set that are done: how they were found, and what was done to them.

The first lost its back and is repaired at length; the second is a simple repair. Everything is
invented; what is said of paste, poultice and barrier is common practice, no source.
"""

from bindery_stock.stock import Stage, View
from bindery_stock.trade import Use
from sample_db.agreed import FIRST_CARE, SECOND_CARE, THIRD_CARE
from sample_db.hoard import Close, Found, Happening, Shoot, Take, Work
from sample_db.render import Photograph, Sitting, Stuff
from sample_db.render.book import Volume, board_view, spine_view
from sample_db.render.treated import bare_back, lined_back, rebacked
from sample_db.volumes import BOARD, name_of

_RED_RIB = Stuff((33.0, 33.0, 17.0), pattern="rib")
_STRIP = Stuff((30.0, 35.0, 18.0), pattern="rib", rubbed=0.1)
_PINDER = Volume(_RED_RIB, (41.0, 23.0, 15.0), *BOARD, 33.1, seed=11, split=(6.0, 204.0))
_PINDER_MENDED = Volume(_RED_RIB, (41.0, 23.0, 15.0), *BOARD, 33.1, seed=11)
_FROST = Volume(
    _RED_RIB, (42.0, 22.0, 15.0), *BOARD, 32.2, "THE/HOLLIN/VALE", 14.0, (18.0, 190.0), 12
)
_FIRST, _SECOND = name_of(1), name_of(2)


def _pinder_rebacked(sitting: Sitting) -> Photograph:
    return rebacked(_PINDER, _STRIP, sitting, old_back=False)


def _frost_rebacked(sitting: Sitting) -> Photograph:
    return rebacked(_FROST, _STRIP, sitting, old_back=True)


FOUND: dict[int, Found] = {
    1: Found(
        owner="Dunnockmere reading room",
        condition=(
            "The cloth of the back is lost. The linings beneath are brittle, stained by damp at "
            "two places and torn at head and tail. Both joints are split from head to tail; the "
            "boards hang by the mull. Sewing and text block are sound. The cloth of the boards is "
            "rubbed at the edges and has kept its colour; the gilding is bright."
        ),
        hours_estimated=5.5,
        shelfmark="HV 1",
        former_repairs="The linings were once pasted over with newspaper, since lost.",
        care=FIRST_CARE,
        shots=(
            Shoot(
                volume=1,
                shows=View.SPINE,
                stage=Stage.BEFORE,
                draw=lambda sitting: bare_back(_PINDER, sitting),
            ),
            Shoot(
                volume=1,
                shows=View.FRONT,
                stage=Stage.BEFORE,
                draw=lambda sitting: board_view(_PINDER, sitting),
                wide=False,
            ),
        ),
    ),
    2: Found(
        owner="Dunnockmere reading room",
        condition=(
            "The front joint is split almost along its whole length and the back joint has begun "
            "to part. The cloth is lost at the head. The back has faded, its gilding is rubbed but "
            "can be read. Two leaves are torn at the fore-edge, 30 and 45 mm."
        ),
        hours_estimated=3.0,
        shelfmark="HV 2",
        care=SECOND_CARE,
        shots=(
            Shoot(
                volume=2,
                shows=View.SPINE,
                stage=Stage.BEFORE,
                draw=lambda sitting: spine_view(_FROST, sitting),
            ),
        ),
    ),
    3: Found(
        owner="Dunnockmere reading room",
        condition=(
            "The front joint is split at the head, 60 mm, and gapes when the board is opened. The "
            "back hangs on by its linings; its cloth is whole. The hinges hold."
        ),
        hours_estimated=2.5,
        shelfmark="HV 3",
        care=THIRD_CARE,
    ),
}
"""How they came to the bench; the third waits for its owner's word."""

DRY_WORK: tuple[Happening, ...] = (
    Work(
        volume=1,
        what="Brushed the boards and the bare linings clean, dry, under extraction",
        undo="Only loose dust was taken off; nothing was added.",
        hours=0.5,
    ),
    Work(
        volume=1,
        what="Lifted the old cloth along both joints, 12 mm onto the boards",
        undo="The cloth is whole and lies down again in its own place.",
        hours=1.25,
    ),
    Work(
        volume=2,
        what="Lifted the old back whole and the cloth along both joints, 12 mm",
        undo="The old back is kept; it lies over the new strip.",
        hours=0.75,
    ),
)
"""What was done before any adhesive was taken out."""

_PINDER_WORK: tuple[Happening, ...] = (
    Take(
        key="cellulose",
        use=Use.HIDDEN,
        purpose=f"poultice on the back, {_FIRST}",
        amount=30,
        reason="A poultice only: it was lifted off again with the old glue and carries no load.",
    ),
    Work(
        volume=1,
        what="Softened the perished glue of the back with a poultice and took it off",
        undo="Cannot be put back. A sample of it is kept in an envelope with this record.",
        hours=0.75,
        tin="cellulose",
        amount="30 ml",
    ),
    Take(
        key="fresh paste",
        use=Use.SPINE_LINING,
        purpose=f"mull and hollow, {_FIRST}",
        amount=18,
    ),
    Work(
        volume=1,
        what="Lined the back with mull, 25 mm onto each board beneath the old cloth",
        undo="Comes away whole after ten minutes under a damp poultice.",
        hours=0.5,
        key="mull piece",
        tin="fresh paste",
        amount="12 g",
    ),
    Work(
        volume=1,
        what="Set a hollow of kraft on the mull",
        undo="Comes off the mull with a damp poultice; the mull stays.",
        hours=0.5,
        key="kraft heavy",
        tin="fresh paste",
        amount="6 g",
        fits=("hollow",),
    ),
    Shoot(
        volume=1,
        shows=View.SPINE,
        stage=Stage.DURING,
        draw=lambda sitting: lined_back(_PINDER, sitting),
    ),
    Take(key="fresh paste", use=Use.HIDDEN, purpose=f"barrier of tissue, {_FIRST}", amount=5),
    Work(
        volume=1,
        what="Laid a barrier of tissue on the boards where the strip will lie",
        undo="Softens with a little water and lifts with all that lies on it.",
        hours=0.25,
        key="tissue strong",
        tin="fresh paste",
        amount="5 g",
    ),
    Take(
        key="dispersion",
        use=Use.CLOTH_TO_BOARD,
        purpose=f"cloth to boards, {_FIRST}",
        amount=12,
    ),
    Work(
        volume=1,
        what="Laid the reback strip under the lifted cloth, on the barrier of tissue",
        undo="Split the tissue beneath with a thin blade, dry; the dispersion stays on the strip.",
        hours=1.0,
        tin="dispersion",
        amount="9 g",
        fits=("reback strip",),
        reason="Laid tacky, in gloves; the strip was not wetted.",
    ),
    Work(
        volume=1,
        what="Set the inlay between strip and hollow",
        undo="Lies on the strip alone and comes away with it.",
        hours=0.25,
        tin="dispersion",
        amount="3 g",
        fits=("inlay",),
    ),
    Take(key="fresh paste", use=Use.CLOTH_TO_BOARD, purpose=f"old cloth, {_FIRST}", amount=4),
    Work(
        volume=1,
        what="Pasted the old cloth down over the strip, the face kept dry; pressed overnight",
        undo="Lifts again with a damp blotter from beneath.",
        hours=0.75,
        tin="fresh paste",
        amount="4 g",
    ),
    Shoot(volume=1, shows=View.SPINE, stage=Stage.AFTER, draw=_pinder_rebacked),
    Shoot(
        volume=1,
        shows=View.FRONT,
        stage=Stage.AFTER,
        draw=lambda sitting: board_view(_PINDER_MENDED, sitting),
        wide=False,
    ),
    Close(
        volume=1,
        note=(
            "The boards are firm and open without strain. The back was left plain: its lettering "
            "is not known, and none was invented. Keep the volume upright, dry and out of the sun."
        ),
    ),
)

_FROST_WORK: tuple[Happening, ...] = (
    Take(key="fresh paste", use=Use.MENDING, purpose=f"leaf mends, {_SECOND}", amount=5),
    Work(
        volume=2,
        what="Mended two torn leaves with tissue",
        undo="Tissue and paste come off with a damp brush.",
        hours=0.5,
        key="tissue strong",
        tin="fresh paste",
        amount="5 g",
    ),
    Take(key="mix", use=Use.CLOTH_TO_BOARD, purpose=f"cloth to boards, {_SECOND}", amount=14),
    Work(
        volume=2,
        what="Laid the reback strip under the lifted cloth",
        undo="Swells under a damp poultice; lifted from the joint towards the board.",
        hours=1.0,
        tin="mix",
        amount="10 ml",
        fits=("reback strip",),
    ),
    Work(
        volume=2,
        what="Laid the old back over the new strip",
        undo="As the strip; the old back is backed with nothing and lifts by itself.",
        hours=0.5,
        tin="mix",
        amount="4 ml",
    ),
    Shoot(volume=2, shows=View.SPINE, stage=Stage.AFTER, draw=_frost_rebacked),
    Close(
        volume=2,
        note="Opens well. The old inlay was sound and went back; the new cloth shows at the head.",
    ),
)

WET_WORK: tuple[Happening, ...] = (*_PINDER_WORK, *_FROST_WORK)
"""What was done once the tins stood in their places."""
