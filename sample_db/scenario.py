"""The sample hoard: what lies on the shelves of an invented bindery, and how it came there.

Every person, place, title and supplier here is made up. The hoard is that of one binder, O.
Merribrook, who has the *Chronicles of the Hollin Vale* by Ambrose Tarrowgate on the bench: two
dozen volumes in red rib, for which there is less of the right cloth than the spines need.
"""

from dataclasses import replace

from bindery_stock.trade.vocabulary import Backing, Fibre, Form, Kind
from sample_db.cupboard import AFTERWARDS, TINS
from sample_db.hoard import Correct, Cut, Discard, Item, Move, Reserve, Scenario
from sample_db.render import (
    GREY_CARD,
    WHITE_CARD,
    Fade,
    Fold,
    Glue,
    Lab,
    Light,
    Mark,
    Stain,
    Stamping,
    Stuff,
    TurnIns,
    Weak,
    Weave,
    blob,
)
from sample_db.shapes import bitten, ell, oddment, sheet, side, skin, strip
from sample_db.treated import DRY_WORK, FOUND, WET_WORK
from sample_db.volumes import VOLUMES

_ODD_VOLUMES = "Odd volumes from the Dunnockmere reading room"
_WEXLEY = "Tin of cuttings, the late Miss Wexley-Lorne"
_SALE = "Broken lot, Pottersclose sale"
_ROOF = "Boards without books, Ansty Row attic"
_SUNDRIES = "Fellmoor Sundries"
_MILL = "Quarrybeck Mill"

_REDS = "Plan chest, drawer 1"
_GREENS = "Plan chest, drawer 2"
_BROWNS = "Plan chest, drawer 3"
_BLUES = "Plan chest, drawer 4"
_OFFCUTS = "Offcut tin A"
_STAND = "Roll stand"
_FLAT = "Flat shelf"
_SEALED = "Sealed bag, top shelf"

_FINE = Weave(0.42, 0.45, 0.3, 0.75)
_PLAIN = Weave(0.50, 0.55, 0.5, 0.35)
_COARSE = Weave(0.78, 0.84, 0.7, 0.15)
_WARM = Light(cast=(1.02, 1.0, 0.965), slant=0.10)
_DIM = Light(vignette=0.22, slant=0.14, grain=0.005)


def _cloth(lab: Lab, pattern: str, *, weave: Weave = _FINE, rubbed: float = 0.35) -> Stuff:
    return Stuff(lab, pattern=pattern, weave=weave, rubbed=rubbed)


def _board(
    key: str,
    lab: Lab,
    pattern: str,
    size: tuple[float, float, float],
    seed: int,
    *,
    faded: float = 0.55,
    marks: tuple[Mark, ...] = (),
    blocked: str = "frame",
    **more: object,
) -> Item:
    """The cloth of a board, ``size`` its width, height and turn-in; it faded at the left."""
    w, h, t = size
    left, foot, right, head = t, t, t + w, t + h
    old: list[Mark] = [
        Fade("left", left, 44.0, faded),
        TurnIns((left, foot, right, head)),
        Fold((left, 0.0), (left, head + t)),
        Fold((right, 0.0), (right, head + t)),
        Fold((0.0, foot), (right + t, foot)),
        Fold((0.0, head), (right + t, head)),
    ]
    if blocked == "frame":
        box = (left + 10, foot + 10, right - 10, head - 10)
        old.append(Stamping(box, "frame", gilt=False))
    if blocked in {"ornament", "gilt"}:
        x, y = (left + right) / 2, (foot + head) / 2
        old.append(
            Stamping((x - 24, y - 24, x + 24, y + 24), "ornament", gilt=blocked == "gilt", worn=0.4)
        )
    item = Item(
        key=key,
        kind=Kind.CLOTH,
        stuff=_cloth(lab, pattern),
        ring=side(w, h, t, seed),
        marks=(*old, *marks),
        pattern=pattern,
        backing=Backing.STARCH,
        fibre=Fibre.COTTON,
        turn_ins=t,
        turn=90.0 - (seed * 37 % 7 - 3) * 0.8,
    )
    return replace(item, **more)  # type: ignore[arg-type]


def _piece(key: str, lab: Lab, pattern: str, ring: object, **more: object) -> Item:
    """A piece of old starch-filled cotton cloth without turn-ins."""
    item = Item(
        key=key,
        kind=Kind.CLOTH,
        stuff=_cloth(lab, pattern),
        ring=ring,  # type: ignore[arg-type]
        pattern=pattern,
        backing=Backing.STARCH,
        fibre=Fibre.COTTON,
    )
    return replace(item, **more)  # type: ignore[arg-type]


_RED_RIB: tuple[Item, ...] = (
    _board(
        "red rib front",
        (33.0, 33.0, 17.0),
        "rib",
        (144, 226, 15),
        11,
        blocked="none",
        source=_ODD_VOLUMES,
        source_date="1868",
        place=_REDS,
        note="Front board of a taller book in the same cloth. The best of it.",
    ),
    _board(
        "red rib back",
        (32.5, 33.0, 16.5),
        "rib",
        (144, 226, 15),
        12,
        marks=(Stain(blob(112, 70, 46, 58, 4), 0.55),),
        blocked="none",
        source=_ODD_VOLUMES,
        source_date="1868",
        place=_REDS,
        note="Back board of the same book, damp-marked.",
    ),
    _board(
        "red rib gilt side",
        (34.0, 32.5, 17.5),
        "rib",
        (143, 225, 15),
        13,
        blocked="gilt",
        faded=0.75,
        source=_SALE,
        source_date="1868",
        place=_REDS,
        note="Turn-ins kept.",
        light=_WARM,
    ),
    _piece(
        "red rib strip",
        (33.5, 32.0, 16.5),
        "rib",
        strip(66, 258, 21, skew=4),
        turn=88.0,
        source=_WEXLEY,
        source_date="c. 1870",
        place=_REDS,
        ground=GREY_CARD,
    ),
    _piece(
        "red rib narrow strip",
        (33.0, 34.0, 17.5),
        "rib",
        strip(47, 251, 22),
        turn=92.0,
        source=_WEXLEY,
        source_date="c. 1870",
        place=_REDS,
        note="Too narrow for any but the thinnest volume.",
    ),
    _piece(
        "red rib glued strip",
        (32.0, 34.0, 18.0),
        "rib",
        strip(74, 247, 23, skew=-3),
        marks=(Glue(blob(24, 196, 34, 44, 6)),),
        turn=90.0,
        source=_ODD_VOLUMES,
        source_date="1868",
        place=_REDS,
        note="An old back strip with its glue.",
    ),
    _piece(
        "red rib ell",
        (34.5, 31.5, 16.0),
        "rib",
        ell(152, 238, 88, 120, 24),
        marks=(Fade("left", 0, 50, 0.5),),
        turn=91.0,
        source=_SALE,
        source_date="1867",
        place=_REDS,
    ),
    _piece(
        "red rib short",
        (33.0, 33.5, 16.0),
        "rib",
        oddment(128, 186, 9, 25),
        holes=(blob(12 + 64, 104, 15, 12, 9),),
        turn=86.0,
        source=_ROOF,
        place=_REDS,
        note="Worm in the middle.",
        ground=GREY_CARD,
    ),
    _piece(
        "red rib across",
        (33.0, 32.5, 17.0),
        "rib",
        strip(246, 62, 26),
        turn=2.0,
        source=_WEXLEY,
        source_date="c. 1870",
        place=_REDS,
        note="Cut across the warp by someone in a hurry.",
    ),
    _piece(
        "red rib bitten",
        (31.8, 33.2, 17.4),
        "rib",
        bitten(118, 252, 140, 46, 84, 27),
        marks=(Weak(blob(40, 214, 40, 34, 3)),),
        turn=89.0,
        source=_ROOF,
        source_date="1869",
        place=_REDS,
        note="Gnawed at the fore-edge; no droppings left in it.",
        light=_DIM,
    ),
    _board(
        "red rib odd board",
        (33.6, 32.4, 16.8),
        "rib",
        (145, 225, 15),
        14,
        blocked="none",
        faded=0.3,
        source=_SALE,
        source_date="1868",
        place=_REDS,
        note="From a companion volume, turn-ins kept.",
    ),
    _piece(
        "red rib remnant",
        (32.6, 33.4, 17.2),
        "rib",
        bitten(304, 266, 60, 52, 96, 28),
        marks=(Stain(blob(238, 206, 62, 48, 14), 0.45), Fade("left", 0, 30, 0.4)),
        holes=(blob(150, 236, 12, 10, 15),),
        turn=1.0,
        source=_ROOF,
        source_date="c. 1868",
        place=_REDS,
        note="End of a length never made up. Pasted label torn from the right side.",
    ),
    _piece(
        "red rib wide strip",
        (34.0, 32.8, 17.0),
        "rib",
        strip(78, 256, 29),
        turn=90.0,
        source=_ODD_VOLUMES,
        source_date="1867",
        place=_REDS,
        ground=GREY_CARD,
    ),
)

_OTHER_REDS: tuple[Item, ...] = (
    _board(
        "red coarse rib",
        (31.0, 36.0, 19.0),
        "coarse rib",
        (121, 186, 13),
        31,
        source=_ROOF,
        source_date="1861",
        place=_REDS,
    ),
    _piece(
        "red fine rib",
        (35.0, 30.0, 14.5),
        "fine rib",
        ell(140, 244, 70, 60, 32),
        turn=90.0,
        source=_SALE,
        source_date="1874",
        place=_REDS,
        sideways=True,
    ),
    _piece(
        "red diagonal rib",
        (33.0, 33.0, 17.0),
        "diagonal rib",
        strip(96, 236, 33, skew=22),
        turn=91.0,
        source=_WEXLEY,
        place=_REDS,
        note="The colour is right, the pattern is not.",
    ),
    _piece(
        "red morocco grain",
        (30.0, 35.0, 20.0),
        "morocco",
        oddment(150, 132, 8, 34),
        source=_ROOF,
        source_date="1857",
        place=_REDS,
    ),
    _piece(
        "claret sand",
        (24.0, 27.0, 10.0),
        "sand",
        bitten(134, 168, 90, 30, 60, 35),
        source=_SALE,
        source_date="1848",
        place=_REDS,
        ground=GREY_CARD,
    ),
    _piece(
        "vermilion smooth",
        (43.0, 52.0, 34.0),
        "smooth",
        strip(104, 142, 36),
        stuff=_cloth((43.0, 52.0, 34.0), "smooth", weave=_PLAIN),
        source=_WEXLEY,
        source_date="1872",
        place=_SEALED,
        note="Very bright. Kept apart until it has been tested.",
    ),
    _piece(
        "rose bead",
        (48.0, 27.0, 8.0),
        "bead",
        oddment(112, 98, 7, 37),
        source=_WEXLEY,
        source_date="1864",
        place=_OFFCUTS,
    ),
)

_GREENS_: tuple[Item, ...] = (
    _piece(
        "vivid green",
        (50.0, -36.0, 24.0),
        "fine rib",
        bitten(126, 188, 120, 26, 52, 41),
        source=_ROOF,
        source_date="c. 1855",
        place=_SEALED,
        colour_family="green",
        note="Suspect: vivid green of the 1850s. Not tested. Gloves; do not sand or brush.",
        ground=WHITE_CARD,
    ),
    _board(
        "dark green morocco",
        (26.0, -15.0, 7.0),
        "morocco",
        (118, 184, 14),
        42,
        source=_SALE,
        source_date="1859",
        place=_GREENS,
        blocked="gilt",
    ),
    _piece(
        "green pebble",
        (31.0, -15.0, 8.0),
        "pebble",
        ell(168, 196, 60, 80, 43),
        turn=88.0,
        source=_ROOF,
        source_date="1876",
        place=_GREENS,
    ),
    _piece(
        "olive diaper",
        (37.0, -5.0, 23.0),
        "diaper",
        oddment(142, 118, 9, 44),
        holes=(blob(50, 62, 10, 16, 2),),
        source=_WEXLEY,
        source_date="1840s",
        place=_GREENS,
        ground=GREY_CARD,
    ),
    _piece(
        "bottle green sand",
        (22.0, -11.0, 4.0),
        "sand",
        strip(72, 244, 45),
        turn=90.0,
        source=_SALE,
        source_date="1852",
        place=_GREENS,
    ),
    _piece(
        "green bubble",
        (37.0, -15.0, 12.0),
        "bubble",
        oddment(120, 132, 7, 46),
        marks=(Stain(blob(66, 80, 40, 30, 8), 0.45),),
        source=_ROOF,
        source_date="1866",
        place=_GREENS,
    ),
    _piece(
        "grey green honeycomb",
        (47.0, -9.0, 8.0),
        "honeycomb",
        strip(88, 158, 47, skew=10),
        source=_WEXLEY,
        source_date="1858",
        place=_GREENS,
    ),
    _piece(
        "sage moiré",
        (55.0, -8.0, 12.0),
        "moiré",
        strip(58, 126, 48),
        stuff=_cloth((55.0, -8.0, 12.0), "moiré", weave=Weave(0.34, 0.36, 0.2, 0.5)),
        fibre=Fibre.SILK,
        backing=Backing.PAPER,
        source=_WEXLEY,
        source_date="1830s",
        place=_OFFCUTS,
        note="Silk, watered. Splits if folded.",
        ground=GREY_CARD,
    ),
)

_BROWNS_: tuple[Item, ...] = (
    _board(
        "brown rib side",
        (30.0, 11.0, 16.0),
        "rib",
        (138, 218, 15),
        51,
        blocked="ornament",
        source=_ODD_VOLUMES,
        source_date="1863",
        place=_BROWNS,
        faded=0.35,
    ),
    _piece(
        "brown rib strip",
        (31.0, 10.5, 15.0),
        "rib",
        strip(92, 236, 52, skew=6),
        turn=90.0,
        source=_SALE,
        source_date="1862",
        place=_BROWNS,
    ),
    _piece(
        "purple brown wave",
        (25.0, 10.0, 5.0),
        "wave",
        ell(144, 172, 52, 64, 53),
        source=_ROOF,
        source_date="1854",
        place=_BROWNS,
    ),
    _piece(
        "cinnamon net",
        (44.0, 19.0, 29.0),
        "net",
        oddment(136, 114, 8, 54),
        source=_WEXLEY,
        source_date="1860",
        place=_BROWNS,
        ground=GREY_CARD,
    ),
    _piece(
        "russet straight grain",
        (36.0, 22.0, 25.0),
        "straight-grain morocco",
        strip(84, 172, 55),
        turn=89.0,
        marks=(Glue(blob(30, 40, 36, 30, 5)),),
        source=_SALE,
        source_date="1851",
        place=_BROWNS,
    ),
    _piece(
        "tan calico",
        (58.0, 10.0, 24.0),
        "calico",
        bitten(162, 148, 70, 36, 58, 56),
        stuff=_cloth((58.0, 10.0, 24.0), "calico", weave=_PLAIN),
        source=_ROOF,
        source_date="1826",
        place=_BROWNS,
    ),
    _piece(
        "buff linen",
        (70.0, 5.0, 21.0),
        "linen",
        strip(142, 204, 57),
        stuff=_cloth((70.0, 5.0, 21.0), "linen", weave=_COARSE, rubbed=0.2),
        fibre=Fibre.LINEN,
        backing=Backing.NONE,
        turn=91.0,
        frayed=0.95,
        source=_WEXLEY,
        source_date="1893",
        place=_BROWNS,
    ),
    _board(
        "chocolate pebble",
        (21.0, 8.0, 9.0),
        "pebble",
        (112, 172, 13),
        58,
        blocked="none",
        source=_SALE,
        source_date="1878",
        place=_BROWNS,
        light=_DIM,
    ),
    _piece(
        "fawn herringbone",
        (53.0, 8.0, 18.0),
        "herringbone",
        oddment(104, 126, 8, 59),
        source=_WEXLEY,
        source_date="1884",
        place=_OFFCUTS,
    ),
)

_BLUES_: tuple[Item, ...] = (
    _board(
        "blue ripple side",
        (29.0, 2.0, -23.0),
        "ripple",
        (124, 190, 14),
        61,
        blocked="gilt",
        source=_SALE,
        source_date="1856",
        place=_BLUES,
    ),
    _piece(
        "navy sand",
        (19.0, 3.0, -14.0),
        "sand",
        ell(158, 224, 92, 96, 62),
        turn=90.0,
        source=_ROOF,
        source_date="1850",
        place=_BLUES,
    ),
    _piece(
        "slate morocco",
        (36.0, -1.0, -8.0),
        "morocco",
        oddment(144, 122, 9, 63),
        source=_WEXLEY,
        source_date="1849",
        place=_BLUES,
        ground=GREY_CARD,
    ),
    _piece(
        "grey blue diaper",
        (42.0, -2.0, -13.0),
        "diaper",
        strip(76, 214, 64, skew=5),
        turn=92.0,
        source=_ROOF,
        source_date="1847",
        place=_BLUES,
    ),
    _piece(
        "blue bead",
        (32.0, 3.0, -25.0),
        "bead",
        bitten(120, 150, 80, 30, 54, 65),
        marks=(Weak(blob(40, 40, 34, 28, 7)),),
        source=_SALE,
        source_date="1865",
        place=_BLUES,
    ),
    _piece(
        "faded blue linen",
        (56.0, -4.0, -17.0),
        "linen",
        strip(112, 168, 66),
        stuff=_cloth((56.0, -4.0, -17.0), "linen", weave=_COARSE, rubbed=0.5),
        fibre=Fibre.LINEN,
        backing=Backing.NONE,
        frayed=0.9,
        source=_WEXLEY,
        source_date="1890s",
        place=_BLUES,
    ),
    _piece(
        "violet dot and line",
        (29.0, 16.0, -18.0),
        "dot-and-line",
        oddment(126, 104, 8, 67),
        marks=(Stain(blob(60, 50, 36, 30, 12), 0.5),),
        source=_ROOF,
        source_date="1862",
        place=_BLUES,
    ),
)

_DARK_AND_LIGHT: tuple[Item, ...] = (
    _piece(
        "black sand",
        (15.0, 0.5, 0.5),
        "sand",
        strip(94, 246, 71),
        turn=90.0,
        source=_SALE,
        source_date="1853",
        place="Plan chest, drawer 5",
    ),
    _piece(
        "black morocco",
        (16.0, 0.0, -1.0),
        "morocco",
        ell(136, 162, 44, 70, 72),
        source=_ROOF,
        source_date="1860",
        place="Plan chest, drawer 5",
        ground=GREY_CARD,
    ),
    _piece(
        "black floral",
        (14.0, 1.0, 1.5),
        "floral",
        oddment(118, 134, 7, 73),
        source=_WEXLEY,
        source_date="1830s",
        place="Plan chest, drawer 5",
        ground=WHITE_CARD,
    ),
    _piece(
        "bright yellow",
        (72.0, 12.0, 58.0),
        "fine rib",
        strip(82, 128, 74),
        source=_ROOF,
        source_date="1866",
        place=_SEALED,
        colour_family="yellow",
        note="Suspect: strong yellow. Not tested.",
    ),
    _piece(
        "grey pinhead",
        (49.0, 0.0, 2.0),
        "pinhead",
        oddment(110, 120, 8, 75),
        source=_WEXLEY,
        source_date="1881",
        place=_OFFCUTS,
        ground=WHITE_CARD,
    ),
)


def _modern(key: str, lab: Lab, ring: object, weave: Weave, **more: object) -> Item:
    item = _piece(key, lab, "", ring, stuff=_cloth(lab, "", weave=weave, rubbed=0.05))
    return replace(item, **more)  # type: ignore[arg-type]


_NEW_CLOTH: tuple[Item, ...] = (
    _modern(
        "red cotton roll",
        (34.0, 33.0, 18.0),
        sheet(970, 1850),
        _PLAIN,
        form=Form.ROLL,
        pattern="calico",
        backing=Backing.TISSUE,
        swatch=True,
        source=_SUNDRIES,
        place=_STAND,
        note="New, for beneath old spines. Toned by hand where it shows.",
        price="21.50",
    ),
    _modern(
        "undyed cotton roll",
        (86.0, 0.5, 8.0),
        sheet(1120, 2400),
        _PLAIN,
        form=Form.ROLL,
        pattern="calico",
        backing=Backing.NONE,
        swatch=True,
        source=_SUNDRIES,
        place=_STAND,
        price="14.00",
    ),
    _modern(
        "brown buckram",
        (33.0, 12.0, 17.0),
        sheet(380, 500),
        _COARSE,
        form=Form.SHEET,
        pattern="buckram",
        backing=Backing.ACRYLIC,
        turn=90.0,
        frayed=0.15,
        source=_SUNDRIES,
        place=_FLAT,
        price="9.80",
    ),
)


def _material(key: str, kind: Kind, lab: Lab, ring: object, **more: object) -> Item:
    thick = {Kind.BOARD: 2.4, Kind.LEATHER: 0.9, Kind.TISSUE: 0.06, Kind.MULL: 0.2}
    item = Item(
        key=key,
        kind=kind,
        stuff=Stuff(lab, kind=kind.value, thickness=thick.get(kind, 0.15), mottled=0.02),
        ring=ring,  # type: ignore[arg-type]
        form=Form.SHEET,
        frayed=0.0,
        place=_FLAT,
        source=_MILL,
    )
    return replace(item, **more)  # type: ignore[arg-type]


_MATERIALS: tuple[Item, ...] = (
    _material(
        "mull roll",
        Kind.MULL,
        (87.0, 0.5, 8.0),
        sheet(900, 2600),
        form=Form.ROLL,
        swatch=True,
        coloured=False,
        frayed=0.7,
        fibre=Fibre.COTTON,
        place=_STAND,
        source=_SUNDRIES,
        price="11.20",
    ),
    _material(
        "mull piece",
        Kind.MULL,
        (82.0, 2.0, 12.0),
        strip(118, 236, 81),
        form=Form.SCRAP,
        coloured=False,
        frayed=0.8,
        turn=90.0,
        fibre=Fibre.COTTON,
        source=_WEXLEY,
        place=_OFFCUTS,
    ),
    _material("kraft heavy", Kind.KRAFT, (56.0, 10.0, 25.0), sheet(450, 640), turn=90.0),
    _material(
        "kraft light",
        Kind.KRAFT,
        (62.0, 9.0, 23.0),
        ell(300, 420, 120, 140, 82),
        turn=90.0,
        note="Acid unknown: nothing printed on the wrapper.",
        source="",
    ),
    _material(
        "tissue strong",
        Kind.TISSUE,
        (93.0, -0.5, 5.0),
        sheet(300, 440),
        turn=90.0,
        coloured=False,
        frayed=0.35,
        note="Hand-made, long-fibred.",
    ),
    _material(
        "tissue toned",
        Kind.TISSUE,
        (66.0, 14.0, 20.0),
        strip(130, 210, 83),
        turn=90.0,
        coloured=False,
        frayed=0.5,
        form=Form.SCRAP,
        note="Toned with acrylic to a faded red-brown.",
        source="Own work",
    ),
    _material("lining paper", Kind.PAPER, (88.0, 0.5, 9.0), sheet(420, 594), turn=90.0),
    _material(
        "endpaper cream",
        Kind.PAPER,
        (90.0, 0.0, 12.0),
        sheet(445, 572),
        turn=90.0,
        note="Machine-made, long grain along the long side.",
    ),
    _material(
        "endpaper brown",
        Kind.PAPER,
        (31.0, 12.0, 12.0),
        ell(240, 330, 90, 110, 84),
        turn=90.0,
        form=Form.SCRAP,
        source=_ODD_VOLUMES,
        source_date="1868",
        note="Coated brown surface paper, as in the set.",
    ),
    _material("grey board", Kind.BOARD, (56.0, 0.5, 6.0), sheet(350, 500), turn=90.0),
    _material(
        "old millboard",
        Kind.BOARD,
        (41.0, 4.0, 12.0),
        strip(152, 232, 85),
        form=Form.SCRAP,
        turn=90.0,
        source=_ROOF,
        source_date="1840s",
        note="Old board. Dust: wipe down, do not sand dry.",
    ),
    _material(
        "calf skiver",
        Kind.LEATHER,
        (43.0, 20.0, 28.0),
        skin(210, 176, 86),
        form=Form.SCRAP,
        source=_SUNDRIES,
        price="7.40",
    ),
    _material(
        "red rot roan",
        Kind.LEATHER,
        (30.0, 21.0, 17.0),
        oddment(124, 150, 8, 87),
        form=Form.SCRAP,
        marks=(Weak(blob(60, 80, 60, 56, 11)),),
        source=_ROOF,
        source_date="1870s",
        place=_SEALED,
        note="Powdery: red rot suspected.",
    ),
    _material(
        "linen tape",
        Kind.TAPE,
        (84.0, 0.5, 9.0),
        sheet(13, 240),
        stuff=Stuff((84.0, 0.5, 9.0), weave=_PLAIN, rubbed=0.0, thickness=0.3),
        form=Form.ROLL,
        fibre=Fibre.LINEN,
        turn=90.0,
        frayed=0.3,
        source=_SUNDRIES,
        place="Sewing drawer",
    ),
)

_HAPPENINGS = (
    *DRY_WORK,
    Cut(key="red rib front", purpose="reback strip, Hollin Vale vol. 1", width=67, height=248),
    Cut(key="red rib front/1", purpose="corner patch, Lantern Parish", width=33, height=33),
    Cut(key="brown rib side", purpose="reback strip, Lantern Parish", width=46, height=230),
    Cut(
        key="red rib ell",
        purpose="joint strip, Hollin Vale vol. 2",
        width=56,
        height=232,
        taken_back=True,
    ),
    Cut(key="red rib remnant", purpose="reback strip, Hollin Vale vol. 2", width=67, height=248),
    Cut(key="kraft heavy", purpose="hollow, Hollin Vale vol. 1", width=102, height=210),
    Cut(key="kraft heavy/1", purpose="inlay, Hollin Vale vol. 1", width=33, height=210),
    Cut(key="red rib gilt side", purpose="joint strip, Hollin Vale vol. 14", width=22, height=248),
    Discard(key="red rot roan", reason="red rot, too far gone to use"),
    Reserve(key="red rib strip", purpose="joint strip, Hollin Vale vol. 3", width=22, height=248),
    Reserve(key="red rib back", purpose="reback strip, Hollin Vale vol. 4", width=69, height=248),
    Reserve(key="navy sand", purpose="reback strip, Nine Weirs", width=52, height=210),
    Move(keys=("rose bead", "grey pinhead", "fawn herringbone"), place="Offcut tin B"),
    Correct(key="slate morocco", field="source_date", value="c. 1849"),
)
"""What was done with the hoard, oldest first."""

SAMPLE = Scenario(
    items=(
        *_RED_RIB,
        *_OTHER_REDS,
        *_GREENS_,
        *_BROWNS_,
        *_BLUES_,
        *_DARK_AND_LIGHT,
        *_NEW_CLOTH,
        *_MATERIALS,
    ),
    happenings=_HAPPENINGS,
    tins=TINS,
    volumes=VOLUMES,
    found=FOUND,
    afterwards=(*WET_WORK, *AFTERWARDS),
)
"""The whole hoard."""
