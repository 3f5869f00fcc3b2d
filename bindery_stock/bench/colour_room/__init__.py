"""Targets, sittings, and book and scrap side by side."""
