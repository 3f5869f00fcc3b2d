"""The photo table: where a photographed scrap is marked and shelved."""
