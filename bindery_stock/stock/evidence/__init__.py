"""What is found out about a piece, a lot or a volume: tests, statements, laboratory results."""
