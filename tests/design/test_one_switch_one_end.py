"""What one switch lights is on together: sized and solved at the same low end of the supply."""

from __future__ import annotations

from pathlib import Path

from circuitplan.design import compose, solve
from circuitplan.design.assume import Ledger
from circuitplan.planfile import read_text

RESCUE = Path(__file__).resolve().parents[2] / "examples" / "rescue-pickup.yaml"
MOVED = "Grille beacons, number: 10, kind: beacon, quantity: 2, place: front bumper, fed_from: main"


def test_a_lamp_of_no_scenario_and_one_of_some_share_the_deepest_sag() -> None:
    text = RESCUE.read_text("utf-8")
    assert f"{MOVED}, switch: S8" in text
    plan = read_text(text.replace(f"{MOVED}, switch: S8", f"{MOVED}, switch: S7"))
    state, _ = compose.sized(plan, Ledger(()))
    index = {load.name: i for i, load in enumerate(state.wiring.loads)}
    mine, other = index["Grille beacons"], index["Under-body lamps"]
    low = state.levels.low_v
    assert low[mine] == low[other]
    assert low[index["Beacon"]] > low[other]  # on another switch: its own scenarios rule
    found = solve.electrical(state)
    for i in (mine, other):
        drop = found.drops[i]
        assert drop is not None
        assert drop.percent <= drop.limit_percent
        # frozen at its worst, it draws no less than the solved network says
        assert found.current_a[i] <= state.demand.worst_a[i] * (1 + 1e-9)
