"""Title block with the data fields of ISO 7200:2004 (field list from memory); blank if unknown."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.words import heading


@dataclass(frozen=True, slots=True)
class Field:
    label: str
    value: str
    width: str = ""  # CSS class: "wide" or none


@dataclass(frozen=True, slots=True)
class View:
    """The boxes of the title block, empty ones too."""

    title: str
    fields: tuple[Field, ...]

    @property
    def blanks(self) -> bool:
        """Whether a box is empty."""
        return not all(field.value for field in self.fields)


def build(plan: Plan, result: Result) -> View:
    """Only what the plan says: no date is made up, not even today's."""
    job = plan.job
    return View(
        title=heading(plan),
        fields=(
            Field("Document type", "Wiring summary", "wide"),
            Field("Supplementary title", job.vehicle or "", "wide"),
            Field("Legal owner", job.owner or "", "wide"),
            Field("Creator", job.by or ""),
            Field("Approved by", job.approved_by or ""),
            Field("Identification number", job.number or ""),
            Field("Revision", plan.revision or ""),
            Field("Date of issue", job.date or ""),
            Field("Sheet", "at the foot"),
            Field("Nominal voltage", f"{plan.nominal_v:g} V DC"),
            Field("Practice", plan.practice),
            Field("Language", "en"),
            Field("Plan file", plan.file.replace("\\", "/").rsplit("/", 1)[-1], "wide"),
            Field("Plan SHA-256, first 12", plan.sha256[:12]),
        ),
    )
