"""The panel map: what sits in each way."""
