"""A rectangle that is to be laid among others."""

from dataclasses import dataclass

from bindery_stock.shape.sheet_parts import Size
from bindery_stock.shape.zones import Zone


@dataclass(frozen=True)
class RectangleWanted:
    """A rectangle to be laid among others. Fields as the arguments of ``place``."""

    width: float
    height: float
    turns: tuple[float, ...] = (0.0, 180.0)
    margin: float = 0.0
    zones: tuple[Zone, ...] = ()

    @property
    def area(self) -> float:
        """Square millimetres."""
        return self.width * self.height

    @property
    def ways(self) -> tuple[float, ...]:
        """Its turns that lay it differently on a bare sheet; none where one lies aslant."""
        if any(turn % 90.0 for turn in self.turns):
            return ()
        return tuple(turn for turn in (self.upright, self.quarter) if turn is not None)

    def laid_size(self, turn: float) -> Size:
        """Across and along the warp where it lies so."""
        return (self.width, self.height) if turn % 180.0 == 0.0 else (self.height, self.width)

    @property
    def upright(self) -> float | None:
        """The first turn that leaves the height along the warp, if there is one."""
        return next((turn for turn in self.turns if turn % 180.0 == 0.0), None)

    @property
    def quarter(self) -> float | None:
        """The first turn that lays the height across the warp, if there is one."""
        return next((turn for turn in self.turns if turn % 180.0 == 90.0), None)
