"""What is done with the volumes on the bench, without a window."""
