"""The wiring summary as one self-contained HTML file: no script, no network."""

from __future__ import annotations

import html
import re
from dataclasses import dataclass
from importlib import import_module
from typing import Any

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.environment import HERE, environment, style
from circuitplan.report.sections import SECTIONS
from circuitplan.report.words import heading, identity, revision


@dataclass(frozen=True, slots=True)
class RenderedSection:
    """``number`` is empty for what stands before the numbered sections."""

    name: str
    number: str
    title: str
    body: Any  # markup, escaped where it was made
    contents: bool


def render_html(plan: Plan, result: Result, *, working: bool = False) -> str:
    """The wiring summary of ``result``: fonts, drawings and styles inside, readable offline.

    ``working`` adds the working of every circuit, about a third of the whole, as an appendix.
    Raises jinja2.UndefinedError if a template names something its view lacks (a fault of ours).
    """
    from markupsafe import Markup

    env = environment()
    rendered = []
    number = 0
    for entry in SECTIONS:
        if entry.on_demand and not working:
            continue
        view = import_module(f"circuitplan.report.sections.{entry.name}.view").build(plan, result)
        body = env.get_template(f"sections/{entry.name}/section.html.j2").render(view=view)
        number += entry.numbered
        rendered.append(
            RenderedSection(
                entry.name,
                str(number) if entry.numbered else "",
                entry.title,
                Markup(body),
                entry.contents,
            )
        )
    letters = html.unescape(re.sub(r"<[^>]+>", "", "".join(str(s.body) for s in rendered)))
    title = heading(plan)
    return env.get_template("page.html.j2").render(
        title=title,
        verdict=f"{result.answer.upper()}: {result.because}",
        sections=rendered,
        working=working,
        screen=(HERE / "screen.css").read_text(encoding="utf-8"),
        style=style(
            "summary.css",
            letters + title,
            (400, 600),
            title=title,
            revision=revision(plan),
            identity=f"Wiring summary · {identity(plan)}",
        ),
    )
