"""What comes in from elsewhere: tables, and another stockroom."""
