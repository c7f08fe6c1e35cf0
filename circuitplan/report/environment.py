"""The one Jinja2 environment: everything escaped, an unknown name is an error."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from circuitplan.report.fonts import face_rules

if TYPE_CHECKING:
    from jinja2 import Environment

HERE = Path(__file__).parent


def environment() -> Environment:
    """Templates under ``report/``; ``svg`` marks a drawing of our own as safe."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined
    from markupsafe import Markup

    env = Environment(
        loader=FileSystemLoader(HERE),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.filters["svg"] = Markup
    return env


def style(name: str, text: str, weights: tuple[int, ...], **running: str) -> str:
    """The style sheet ``name`` with the fonts that ``text`` needs, ready for a style element.

    ``running`` texts replace ``@NAME@`` in the sheet, as CSS strings.
    """
    sheet = (HERE / name).read_text(encoding="utf-8")
    for word, value in running.items():
        sheet = sheet.replace(f"@{word.upper()}@", css_string(value))
    return f"{face_rules(text, weights)}\n{sheet}"


def css_string(text: str) -> str:
    """``text`` as a CSS string in which no letter can end the string or the style element."""
    safe = (c if c.isalnum() or c in " ,.-" else f"\\{ord(c):06x} " for c in text)
    return f'"{"".join(safe)}"'
