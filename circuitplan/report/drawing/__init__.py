"""The one-line distribution drawing: tree of the result -> placed marks -> SVG."""
