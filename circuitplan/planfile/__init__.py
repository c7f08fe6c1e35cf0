"""Plan files: YAML, CSV and XLSX in, comment-keeping edits out."""

from circuitplan.planfile.reading import read_plan, read_text

__all__ = ["read_plan", "read_text"]
