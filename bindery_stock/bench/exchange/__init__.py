"""Lists, labels, records out; tables and photographs in."""
