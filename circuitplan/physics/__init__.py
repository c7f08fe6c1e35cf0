"""Pure formulas on plain floats and arrays; nothing here knows about plans or tables."""
