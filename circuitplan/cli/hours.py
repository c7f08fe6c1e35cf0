"""``hours``: how long does it run on the battery?"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, example

if TYPE_CHECKING:
    from circuitplan.planner import HoursAnswer


@example(
    "circuitplan hours --battery 95Ah --kind fridge",
    "circuitplan hours --battery 100Ah --battery-type lifepo4 --power 60W",
    "circuitplan hours examples/overloaded-compressor.yaml Fridge",
)
def hours(
    plan: Annotated[
        str | None, typer.Argument(metavar="PLAN", help="Plan file.", show_default=False)
    ] = None,
    name: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="NAME", help="Accessory or scenario of the plan.", show_default=False
        ),
    ] = None,
    battery: Annotated[
        str | None, typer.Option(metavar="AMP-HOURS", help="20 h capacity.", show_default=False)
    ] = None,
    battery_type: Annotated[
        str | None,
        typer.Option(metavar="TYPE", help="flooded, agm, gel or lifepo4.", show_default=False),
    ] = None,
    system: Annotated[str, typer.Option(metavar="VOLTS", help="Nominal volts.")] = "12V",
    kind: Annotated[
        str | None, typer.Option(metavar="KIND", help="What runs, as a kind.", show_default=False)
    ] = None,
    power: Annotated[
        str | None, typer.Option(metavar="WATTS", help="Mean power of each.", show_default=False)
    ] = None,
    current: Annotated[
        str | None,
        typer.Option(metavar="AMPERES", help="Mean current of each.", show_default=False),
    ] = None,
    quantity: Annotated[int, typer.Option(metavar="N", help="How many.", min=1, max=999)] = 1,
    parked: Annotated[
        str | None,
        typer.Option(
            metavar="AMPERES",
            help="What the parked vehicle itself draws; 50 mA if left out.",
            show_default=False,
        ),
    ] = None,
    json: AsJson = False,
) -> int:
    """How long something runs on a full battery.

    PLAN and NAME, or a battery and a load. Hours until the reserve that still starts the engine,
    and until empty; from full, at 20 °C, rounded down. Exit code 0 when a time was found.
    """
    from circuitplan.cli.terminal.timing import hours_lines

    if plan is not None:
        answer = _of_plan(plan, " ".join(name or ()))
    else:
        answer = _by_figures(
            {"--battery": battery, "--power": power, "--current": current, "--parked": parked},
            battery_type, system, kind, quantity,
        )  # fmt: skip
    if json:
        print_json(answer)
    else:
        print_lines(hours_lines(answer))
    return exit_code(answer.answer)


def _of_plan(plan: str, name: str) -> HoursAnswer:
    from circuitplan.errors import InputError, Problem
    from circuitplan.planfile import read_plan
    from circuitplan.planner import hours_of, study

    read = read_plan(plan)
    if not name:
        names = [a.name for a in read.accessories] + [s.name for s in read.scenarios]
        raise InputError(
            [Problem("hours", "no NAME", ", ".join(names), f"as: circuitplan hours {plan} NAME")]
        )
    return hours_of(read, study(read), name)


def _by_figures(
    texts: dict[str, str | None],
    type_name: str | None,
    system: str,
    kind: str | None,
    quantity: int,
) -> HoursAnswer:
    from circuitplan.cli.quantities import Reader
    from circuitplan.model.plan import Accessory, Battery
    from circuitplan.model.result import Assumption
    from circuitplan.planner import hours_by_figures

    reader = Reader()
    dimensions = {"--battery": "charge", "--power": "power"}
    read = {
        option: reader.quantity(option, text, dimensions.get(option, "current"))
        for option, text in texts.items()
    }
    volts = reader.quantity("--system", system, "voltage")
    if volts is not None and volts not in (12.0, 24.0, 48.0):
        reader.problem("--system", f"{volts:g} V", "12, 24 or 48 V", "give the nominal volts")
    if texts["--battery"] is None:
        reader.problem("--battery", "no battery", "95Ah", "give its 20 h capacity, or a PLAN")
    if sum(x is not None for x in (kind, texts["--power"], texts["--current"])) != 1:
        reader.problem("hours", "the load is not clear", "--kind, --power or --current", "give one")
    battery_type = reader.choice("--battery-type", type_name, ("flooded", "agm", "gel", "lifepo4"))
    reader.kind("--kind", kind)
    reader.finish()
    parked_a = read["--parked"]
    assumed = []
    if parked_a is None:
        from circuitplan.library import alternators

        fact = alternators.vehicle_load(volts or 12.0, False)
        parked_a = fact.value
        value = f"{parked_a:g} A"
        assumed.append(Assumption("vehicle", "load, parked", value, fact.source, fact.status))
    if battery_type is None:
        value = "flooded, the weakest"
        assumed.append(Assumption("battery", "type", value, "safe side", "judgement"))
    answer = hours_by_figures(
        Battery("battery", type=battery_type, capacity_ah=read["--battery"]),
        Accessory(
            kind or "load",
            kind=kind,
            quantity=quantity,
            power_w=read["--power"],
            current_a=read["--current"],
        ),
        volts or 12.0,
        parked_a,
    )
    return replace(answer, assumptions=(*answer.assumptions, *assumed))
