"""Outlines on which a plain union in floating point breaks."""

from pathlib import Path

import shapely
from shapely import Polygon

from bindery_stock.shape.inner_fit import touching

FLAW = Path(__file__).parent / "flaw_with_a_soft_edge.wkt"


def test_a_flaw_with_a_soft_edge_bars_every_place_where_a_turn_in_would_meet_it() -> None:
    """A stain grown by a margin, whose sweep GEOS refuses to unite as it stands."""
    flaw = shapely.from_wkt(FLAW.read_text(encoding="utf-8"))
    assert isinstance(flaw, Polygon)
    barred = touching(flaw, (67.45766909778477, 0.0, 67.45766809778479, 19.049999))
    for x, y in flaw.exterior.coords:
        for low in (y - 0.001, y - 10.0, y - 19.048):
            assert barred.distance(shapely.Point(x - 67.457669, low)) < 1e-3
    left, _, right, _ = flaw.bounds
    assert not barred.intersects(shapely.Point(left - 80.0, 60.0))
    assert not barred.intersects(shapely.Point(right, 60.0))
