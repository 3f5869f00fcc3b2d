"""Cloth for a part: candidates, the cut, and what is left."""
