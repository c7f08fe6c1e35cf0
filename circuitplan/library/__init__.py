"""Typed rows of the shipped tables. Each row knows its source and its status."""
