"""Frozen data without behaviour: the plan that comes in, the result that goes out."""
