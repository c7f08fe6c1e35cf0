"""Where no design keeps the drop, a load draws more than its limit would have it: wire and fuse
are chosen for what it draws."""

from __future__ import annotations

import pytest
from small_plans import circuit, findings, studied

PLAN = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A}}
panels:
  main: {fed_from: battery, rating: 200 A, length: 1 m,
         connector: {ways: 4, contact: 6.3 mm, rating: 150 A, rated_at: 60 °C}}
accessories:
  - {name: Big, current: %d A, length: 3 m, fed_from: main,
     connector: {ways: 4, rating: 150 A, rated_at: 60 °C}}
  - {name: Oth, current: 12 A, length: 3 m, fed_from: main}
"""


@pytest.mark.parametrize("amperes", [38, 41, 45, 51, 58])
def test_no_fuse_of_ours_is_too_small_for_what_flows_in_the_end(amperes: int) -> None:
    result = studied(PLAN % amperes)
    big = circuit(result, "Big")
    # The contacts alone lose more than the limit: the volts are below those of 5 % of 12 V.
    assert big.drop is not None
    assert big.drop.percent > big.drop.limit_percent
    own = [f for c in result.circuits for f in c.fuses] + [p.fuse for p in result.panels if p.fuse]
    assert len(own) == 3
    for fuse in own:
        assert not fuse.given
        assert fuse.rating_a >= fuse.min_a
        # 0.8 of its rating for a load that stays on (common practice), less where it is warm.
        assert fuse.rating_a * 0.8 >= fuse.current_a
    assert not findings(result, "F02")
    for run in (r for c in result.circuits for r in c.runs):
        assert run.ampacity_a >= run.thermal_a


def test_it_is_the_current_and_not_the_drop_that_made_it_larger() -> None:
    """45 A at 12 V is 540 W; at the volts that are left, P/U, and 70 A no longer carry it."""
    big = circuit(studied(PLAN % 45), "Big")
    (load,) = big.accessories
    assert load.current_a == pytest.approx(540.0 / load.low_v, rel=1e-6)
    assert big.fuses[0].min_a > 70.0
    assert big.fuses[0].rating_a == 80.0
