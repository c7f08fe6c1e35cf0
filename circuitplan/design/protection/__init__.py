"""Fuses and faults: what guards a wire, the proof of it, and cures that passed when tried."""
