"""What leaves the program: lists, labels, records."""
