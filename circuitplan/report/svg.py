"""A small writer of SVG in millimetres: black lines and text, every text escaped."""

from __future__ import annotations

from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

from circuitplan.report.fonts import FAMILY

LINE_MM = 0.3


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"


@dataclass(slots=True)
class Canvas:
    """Collects shapes; ``width_mm`` x ``height_mm`` is the sheet, the origin top left."""

    width_mm: float
    height_mm: float
    title: str
    parts: list[str] = field(default_factory=list)

    def line(self, *points: tuple[float, float], width: float = LINE_MM, dash: str = "") -> None:
        """An open line through ``points`` [mm]; lines alike in a row become one element."""
        path = "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in points)
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        end = f'" fill="none" stroke="#000" stroke-width="{_n(width)}"{dashed}/>'
        if self.parts and self.parts[-1].startswith("<path") and self.parts[-1].endswith(end):
            self.parts[-1] = self.parts[-1].removesuffix(end) + path + end
        else:
            self.parts.append(f'<path d="{path}{end}')

    def shape(
        self, *points: tuple[float, float], fill: str = "none", width: float = LINE_MM
    ) -> None:
        """A closed outline through ``points`` [mm]."""
        path = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
        self.parts.append(
            f'<polygon points="{path}" fill="{fill}" stroke="#000" stroke-width="{_n(width)}"/>'
        )

    def box(
        self,
        x: float,
        y: float,
        w: float,
        h: float,
        fill: str = "none",
        width: float = LINE_MM,
    ) -> None:
        """A rectangle [mm]; ``width`` 0 draws no edge."""
        edge = f'stroke="#000" stroke-width="{_n(width)}"' if width else 'stroke="none"'
        self.parts.append(
            f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(w)}" height="{_n(h)}" fill="{fill}" {edge}/>'
        )

    def circle(self, x: float, y: float, radius: float, fill: str = "none") -> None:
        """A circle [mm]."""
        self.parts.append(
            f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" fill="{fill}" '
            f'stroke="#000" stroke-width="{_n(LINE_MM)}"/>'
        )

    def hatch(self, x: float, y: float, w: float, h: float, step: float = 1.2) -> None:
        """Strokes rising to the right inside a rectangle: a fill that survives a grey copy."""
        offset = step
        while offset < w + h:
            left, low = max(0.0, offset - h), min(h, offset)
            right, high = min(w, offset), max(0.0, offset - w)
            self.line((x + left, y + low), (x + right, y + high), width=0.18)
            offset += step

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = 2.6,
        *,
        bold: bool = False,
        anchor: str = "start",
    ) -> None:
        """Text on the base line ``y`` [mm]; ``size`` is the em [mm]."""
        self.parts.append(
            f'<text x="{_n(x)}" y="{_n(y)}" font-size="{_n(size)}" '
            f'font-weight="{600 if bold else 400}" text-anchor="{anchor}">{escape(text)}</text>'
        )

    def render(self, css_class: str = "drawing") -> str:
        """The whole as one inline ``<svg>`` with its title as text alternative."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="{css_class}" role="img" '
            f"aria-label={quoteattr(self.title)} "
            f'width="{_n(self.width_mm)}mm" height="{_n(self.height_mm)}mm" '
            f'viewBox="0 0 {_n(self.width_mm)} {_n(self.height_mm)}" '
            f'font-family="{FAMILY}, sans-serif">'
            f"<title>{escape(self.title)}</title>" + "".join(self.parts) + "</svg>"
        )
