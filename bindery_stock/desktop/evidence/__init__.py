"""What is known of an item and how: verdicts opened, tests and results recorded."""
