"""Wire labels: two for each wire, on sheets, one by one, or as CSV for a label printer."""
