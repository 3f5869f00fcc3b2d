"""Putting pages on paper: PDF, printer, preview."""
