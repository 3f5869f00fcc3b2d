"""Which piece serves which part: plain values in, plain values out."""
