"""The line-up: scraps laid round the book, told and read in one photograph."""
