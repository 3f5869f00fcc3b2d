"""The pieces on the shelf: tables, values, questions and changes."""
