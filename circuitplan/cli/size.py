"""``size``: wire and fuse of one circuit, or a verdict on those that are there; no file."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from circuitplan import units
from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, example
from circuitplan.cli.quantities import Reader

Text = str | None


@example(
    "circuitplan size --current 20A --length 25ft --drop 1V",
    "circuitplan size --kind fridge --length 5m --gauge awg --ambient 60C",
    "circuitplan size --current 30A --length 4m --wire 14AWG --fuse 40A",
)
def size(
    current: Annotated[
        Text, typer.Option(metavar="AMPERES", help="Current of each.", show_default=False)
    ] = None,
    power: Annotated[
        Text, typer.Option(metavar="WATTS", help="Power of each.", show_default=False)
    ] = None,
    kind: Annotated[
        Text, typer.Option(metavar="KIND", help="What it is, as a kind.", show_default=False)
    ] = None,
    quantity: Annotated[int, typer.Option(metavar="N", help="How many.", min=1, max=999)] = 1,
    length: Annotated[
        Text, typer.Option(metavar="LENGTH", help="One way.", show_default=False)
    ] = None,
    loop: Annotated[
        Text,
        typer.Option(
            metavar="LENGTH", help="Out and back, instead of --length.", show_default=False
        ),
    ] = None,
    drop: Annotated[
        Text,
        typer.Option(
            metavar="DROP",
            help="Allowed in the wires, V or %; 3 % if left out.",
            show_default=False,
        ),
    ] = None,
    system: Annotated[str, typer.Option(metavar="VOLTS", help="6 to 60 V nominal.")] = "12V",
    back: Annotated[str, typer.Option("--return", metavar="WAY", help="wire or chassis.")] = "wire",
    gauge: Annotated[
        str, typer.Option(metavar="GAUGE", help="metric, awg, sae or iec.")
    ] = "metric",
    insulation: Annotated[
        str, typer.Option(metavar="CLASS", help="As 105C, or '125C cross-linked'.")
    ] = "105C",
    ambient: Annotated[
        Text,
        typer.Option(
            metavar="TEMPERATURE", help="Where it lies; 50 °C if left out.", show_default=False
        ),
    ] = None,
    bundle: Annotated[
        int | None,
        typer.Option(
            metavar="N", help="Loaded wires that lie together.", min=1, max=19, show_default=False
        ),
    ] = None,
    conductor: Annotated[
        Text,
        typer.Option(
            metavar="TEMPERATURE", help="Fix the copper at this, for the drop.", show_default=False
        ),
    ] = None,
    switch: Annotated[
        Text, typer.Option(metavar="AMPERES", help="Rating of its switch.", show_default=False)
    ] = None,
    wire: Annotated[
        Text, typer.Option(metavar="SIZE", help="The wire that is there.", show_default=False)
    ] = None,
    fuse: Annotated[
        Text, typer.Option(metavar="FUSE", help="The fuse that is there.", show_default=False)
    ] = None,
    json: AsJson = False,
) -> int:
    """Wire and fuse of one circuit, without a file.

    The drop counts conductors only: contacts, switch and source come on top (a plan counts them).
    With --wire or --fuse it judges what is there already.
    """
    from circuitplan.cli.terminal.sizing import size_lines
    from circuitplan.planner import size_one

    reader = Reader()
    words = {
        "current_a": reader.quantity("--current", current, "current"),
        "power_w": reader.quantity("--power", power, "power"),
        "kind": kind,
        "quantity": quantity,
        "length_m": reader.quantity("--length", length, "length"),
        "loop_m": reader.quantity("--loop", loop, "length"),
        "system_v": reader.quantity("--system", system, "voltage"),
        "back": reader.choice("--return", back, ("wire", "chassis")),
        "gauge": reader.choice("--gauge", gauge, ("metric", "awg", "sae", "iec")),
        "ambient_c": reader.quantity("--ambient", ambient or "50 °C", "temperature"),
        "ambient_given": ambient is not None,
        "bundle": bundle,
        "conductor_c": reader.quantity("--conductor", conductor, "temperature"),
        "switch_a": reader.quantity("--switch", switch, "current"),
        **_drop(reader, drop),
        **_insulation(reader, insulation),
        "wire": _wire(reader, wire, gauge),
        "fuse": _fuse(reader, fuse),
    }
    reader.kind("--kind", kind)
    reader.finish()
    answer = size_one(_request(words))
    if json:
        print_json(answer)
    else:
        print_lines(size_lines(answer))
    return exit_code(answer.answer)


def _request(words: dict[str, Any]) -> Any:
    from circuitplan.planner import SizeRequest

    return SizeRequest(**words)


def _drop(reader: Reader, text: str | None) -> dict[str, float | None]:
    if text is not None and ("%" in text or "percent" in text.casefold()):
        return {"drop_percent": reader.quantity("--drop", text, "percent")}
    return {"drop_v": reader.quantity("--drop", text, "voltage")}


def _insulation(reader: Reader, text: str) -> dict[str, Any]:
    from circuitplan.library import insulation

    found = insulation.find(text)
    if found is None:
        classes = ", ".join(f"{c:g}C" for c in insulation.classes())
        reader.problem("--insulation", f"'{text}'", classes, "what is printed on the wire")
        return {}
    return {"insulation_c": found.class_c, "insulation_material": found.material}


def _wire(reader: Reader, text: str | None, gauge: str) -> tuple[str, str] | None:
    found = reader.read("--wire", text, lambda given: units.parse_wire(given, gauge))
    if found is None:
        return None
    if found.size is None:
        reader.problem("--wire", "a size is wanted", "14AWG", "circuitplan wire --outside 3mm")
        return None
    return found.gauge, found.size


def _fuse(reader: Reader, text: str | None) -> Any:
    from circuitplan.model.plan import FuseSpec

    found = reader.read("--fuse", text, units.parse_fuse)
    if found is None:
        return None
    if found.rating_a is None:
        reader.problem("--fuse", "a rating is wanted", "15A, or '40A E'", "leave it to be chosen")
        return None
    kind: Any = found.type
    return FuseSpec(found.rating_a, kind, found.none, found.self_resetting)
