"""The photographs: originals kept under the SHA-256 of their content."""
