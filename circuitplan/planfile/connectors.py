"""A connector's keys together: what they must say, and what they then mean."""

from __future__ import annotations

from circuitplan.model.plan import ConnectorSpec
from circuitplan.planfile.connector_fields import MOST_IN_A_ROW, NONE
from circuitplan.planfile.keys import Values
from circuitplan.planfile.tree import Node, listed
from circuitplan.planfile.values import Context

_COUNTED = ("ways", "poles", "cavities", "kind")


def settle(node: Node, values: Values, context: Context, subject: str) -> None:
    """Put a ``ConnectorSpec`` in the place of the keys; every problem is noted at once."""
    said = values.get("connector")
    if said is None:
        return
    least, most = said.pop("takes", (None, None))
    spec = ConnectorSpec(**said, least_mm2=least, most_mm2=most)
    values["connector"] = spec
    given = node.get("connector") or node
    told = given.text is not None or any(given.get(key) for key in _COUNTED)
    spot = given.spot
    for found, allowed, remedy in _Checked(spec, context.nominal_v, bool(told)).problems:
        context.troubles.add(spot, f"{subject}: connector {found}", allowed, remedy)


class _Checked:
    """What is wrong with one connector, as (found, allowed, remedy).

    ``counted``: its ways or its kind are there, if perhaps not readable.
    """

    def __init__(self, spec: ConnectorSpec, nominal_v: float, counted: bool) -> None:
        from circuitplan.library import connectors

        self.problems: list[tuple[str, str, str]] = []
        self.spec = spec
        kind = connectors.find(spec.kind) if spec.kind else None
        numbers: tuple[str, ...] = ()
        if kind is not None:
            numbers = tuple(p.number for p in kind.poles)
            if nominal_v not in kind.volts:
                volts = listed(f"{v:g} V" for v in kind.volts)
                self._say(f"{kind.kind} at {nominal_v:g} V", volts, "take one for these volts")
            if spec.ways not in (None, len(numbers)):
                self._say(f"{kind.kind} with {spec.ways} ways", f"{len(numbers)}", "delete ways")
            for key in ("rows", "contact"):
                if getattr(spec, key) is not None:
                    self._say(f"{kind.kind} with {key}", "neither rows nor contact",
                              f"delete {key}: the standard has its own")  # fmt: skip
            if kind.feed is None and spec.feed is None:
                self._say(f"{kind.kind} without feed", f"feed: one of {listed(numbers, 20)}",
                          "name the pole that carries the positive")  # fmt: skip
        elif spec.ways is None:
            if not counted:  # else what stands there has been told already
                self._say("without ways", "ways, or the kind of a standard", "add ways: 2")
        else:
            numbers = self._numbered(spec.ways)
        if numbers:
            self._cavities(numbers)
        self._heat()

    def _say(self, found: str, allowed: str, remedy: str) -> None:
        self.problems.append((found, allowed, remedy))

    def _numbered(self, ways: int) -> tuple[str, ...]:
        """The numbers of the cavities; 1, 2, 3 ... unless the plan gives them as they stand."""
        rows = self.spec.rows or "1"
        if "/" in rows or " " in rows:
            numbers = tuple(rows.replace("/", " ").split())
            if len(numbers) != ways or len(set(numbers)) != ways:
                self._say(f"with the numbers {rows}", f"{ways} numbers, each once, as it has ways",
                          "write every moulded number once")  # fmt: skip
                return ()
            return numbers
        if int(rows) > ways:
            self._say(f"of {ways} ways in {rows} rows", f"at most {ways} rows", "mend rows or ways")
        elif -(-ways // int(rows)) > MOST_IN_A_ROW:
            self._say(
                f"of {ways} ways in {rows} row{'s' if rows != '1' else ''}",
                f"at most {MOST_IN_A_ROW} in a row", "give its rows",
            )
        return tuple(str(n) for n in range(1, ways + 1))

    def _cavities(self, numbers: tuple[str, ...]) -> None:
        spec = self.spec
        if spec.feed == NONE:
            self._say("with feed none", "a cavity", "a connector without the feed is none: leave "
                      "the connector out")  # fmt: skip
        for key, number in (("feed", spec.feed), ("return", spec.back)):
            if number not in (None, NONE, *numbers):
                self._say(f"with {key} {number}", f"one of {listed(numbers, 20)}",
                          "take the number moulded on the housing")  # fmt: skip
        if spec.feed is None and numbers == (spec.back,):
            self._say("with its only cavity for the return", "a cavity for the feed", "add a way")
        if spec.feed is not None and spec.feed == spec.back:
            self._say(f"with feed and return both {spec.feed}", "two cavities", "mend one of them")

    def _heat(self) -> None:
        spec = self.spec
        if spec.rated_at_c is not None and spec.rating_a is None:
            self._say("with rated_at and no rating", "both, or neither", "give the rating")
        if spec.rated_at_c is not None and spec.class_c is not None and (
            spec.rated_at_c >= spec.class_c
        ):
            self._say(
                f"rated at {spec.rated_at_c:g} °C, of class {spec.class_c:g} °C",
                "a rating below its class", "read its sheet again",
            )
