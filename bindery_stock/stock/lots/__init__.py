"""Adhesive lots: tables, values, questions and changes."""
