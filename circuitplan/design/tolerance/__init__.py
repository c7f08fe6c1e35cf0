"""The tolerance study: what is uncertain, sampled and solved in one pass."""
