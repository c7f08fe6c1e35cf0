"""The commissioning sheet: what to test in which order, what to read, blanks to fill in."""
