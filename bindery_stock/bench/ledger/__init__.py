"""The ledger: steps taken back, and done again."""
