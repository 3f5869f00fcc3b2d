"""Published sheets whose parts fill them wholly without turning; the source stands in the data."""

import json
from dataclasses import dataclass
from pathlib import Path

import rectpack


@dataclass(frozen=True)
class PerfectPacking:
    """A sheet, and the parts that fill it, in mm."""

    name: str
    width: float
    height: float
    parts: tuple[tuple[float, float], ...]

    @property
    def area(self) -> float:
        """Of the sheet, mm²."""
        return self.width * self.height


def perfect_packings() -> list[PerfectPacking]:
    """All of them, from 17 to 197 parts."""
    text = Path(__file__).with_name("perfect_packings.json").read_text(encoding="utf-8")
    return [
        PerfectPacking(
            name, own["width"], own["height"], tuple((w, h) for w, h in map(tuple, own["parts"]))
        )
        for name, own in json.loads(text)["instances"].items()
    ]


_FREE = "MaxRectsBl MaxRectsBssf MaxRectsBaf MaxRectsBlsf SkylineBl SkylineBlWm SkylineMwf SkylineMwfWm SkylineMwfl SkylineMwflWm"  # noqa: E501
_SORTS = "SORT_AREA SORT_PERI SORT_DIFF SORT_SSIDE SORT_LSIDE SORT_RATIO"


def share_by_quick_rules(packing: PerfectPacking, *, guillotine: bool = False) -> float:
    """The best share used by any rule of the public library rectpack, without turning."""
    rules = [getattr(rectpack, name) for name in _FREE.split()]
    if guillotine:
        names = ("Bssf", "Blsf", "Baf")
        splits = ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
        rules = [getattr(rectpack, f"Guillotine{n}{s}") for n in names for s in splits]
    return max(_share(packing, rule, sort) for rule in rules for sort in _SORTS.split())


def _share(packing: PerfectPacking, rule: object, sort: str) -> float:
    packer = rectpack.newPacker(pack_algo=rule, sort_algo=getattr(rectpack, sort), rotation=False)
    for width, height in packing.parts:
        packer.add_rect(width, height)
    packer.add_bin(packing.width, packing.height)
    packer.pack()
    return float(sum(r.width * r.height for r in packer[0])) / packing.area
