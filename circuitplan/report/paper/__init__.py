"""What the bench sheets share: one page form, and rows as CSV."""
