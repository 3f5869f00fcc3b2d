"""Outlines in millimetres: area, fit, cut and offcut. Numbers only."""

from bindery_stock.shape.outline import Flaw, FlawKind, Outline, Point, Ring

__all__ = ["Flaw", "FlawKind", "Outline", "Point", "Ring"]
