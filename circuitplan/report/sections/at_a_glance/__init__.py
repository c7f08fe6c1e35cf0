"""Section of the wiring summary: its view and its template."""
