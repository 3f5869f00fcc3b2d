"""The folder on disk: opening, backup, restore, salvage, soundness."""
