"""The load analysis as one self-contained HTML file; the PDF is made from it."""

from __future__ import annotations

import html
import re

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.analysis.view import build
from circuitplan.report.environment import HERE, environment, style
from circuitplan.report.words import identity, revision


def render_analysis(plan: Plan, result: Result) -> str:
    """The written load analysis of ``result``, readable offline.

    Raises jinja2.UndefinedError if the template names something its view lacks (a fault of ours).
    """
    view = build(plan, result)
    template = environment().get_template("analysis/analysis.html.j2")
    screen = (HERE / "screen.css").read_text(encoding="utf-8")
    bare = template.render(view=view, style="", screen="")
    letters = html.unescape(re.sub(r"<[^>]+>", "", bare))
    sheet = style(
        "summary.css", letters, (400, 600), title=view.title, revision=revision(plan),
        identity=f"Electrical load analysis · {identity(plan)}",
    )  # fmt: skip
    return template.render(view=view, style=sheet, screen=screen)
