"""The ledger: steps, movements, undo and what stands."""
