"""Verdict on measured values: what each should be, and the likely cause where it is not.

Volts are taken at the source's posts (``supply_v``), at the accessory's terminals (``load_v``) and
along each side (``drop_plus_v``, ``drop_minus_v``), with this circuit alone switched on.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from circuitplan.design.bench.causes import CONTACTS_AGED, drain, flowing, parked, side_ohm
from circuitplan.design.bench.chain import Chain
from circuitplan.model.readings import (
    JudgedReading,
    Reading,
    TestAnswer,
    TestedCircuit,
)
from circuitplan.model.record import record
from circuitplan.model.result import Answer


@record
class Expected:
    """Bands at one supply voltage, with this circuit alone on."""

    supply_v: float
    low_a: float
    high_a: float
    least_v: float
    most_plus_v: float
    most_minus_v: float
    plus_ohm: float  # the most each side may have
    minus_ohm: float
    parked_a: float


def expected(chain: Chain, supply_v: float) -> Expected:
    """What the meter should read [V], [A] with ``supply_v`` at the source's posts.

    The most drop is that of the largest current through wires at working temperature and contacts
    of twice their design resistance, and never more than the limit of the circuit.
    """
    plus, minus = side_ohm(chain.plus), side_ohm(chain.minus) + CONTACTS_AGED * chain.body_ohm
    limit_v = chain.limit_percent / 100.0 * chain.nominal_v
    loop = plus + minus
    volts = supply_v
    for _ in range(30):  # the current follows the volts; the drop is small against them
        volts = supply_v - min(limit_v, chain.current_band(volts)[1] * loop)
    high_a = max(chain.current_band(volts)[1], chain.current_band(supply_v)[1])
    low_a = min(chain.current_band(volts)[0], chain.current_band(supply_v)[0])
    drop = min(limit_v, high_a * loop)
    share = plus / loop if loop else 0.0
    return Expected(
        supply_v, low_a, high_a, supply_v - drop, drop * share, drop * (1.0 - share), plus, minus,
        parked(chain),
    )


def judge(chains: Sequence[Chain], readings: Sequence[Reading]) -> TestAnswer:
    """Judge every row; a row names a circuit number or an accessory (see ``find``)."""
    rows: dict[str, list[JudgedReading]] = {}
    for reading in readings:
        chain = find(chains, reading.circuit)
        if chain is not None and not reading.blank:
            rows.setdefault(chain.title, []).append(judge_one(chain, reading))
    found = []
    untested = []
    for chain in chains:
        mine = tuple(rows.get(chain.title, ()))
        if not mine:
            untested.append(f"{chain.circuit} {chain.title}")
        passed = _together([r.passed for r in mine])
        causes = dict.fromkeys(d.cause for r in mine for d in r.deviations)
        found.append(TestedCircuit(
            str(chain.circuit), chain.title, mine, passed, "; ".join(causes) or None
        ))
    return _answer(tuple(found), tuple(untested))


def find(chains: Sequence[Chain], words: str) -> Chain | None:
    """The chain that a row means: "9 Beacon", "Beacon", or "9" where it has one accessory."""
    folded = " ".join(words.casefold().split())
    for chain in chains:
        names = (chain.title.casefold(), f"{chain.circuit} {chain.title}".casefold())
        if folded in names:
            return chain
    numbered = [c for c in chains if folded in (str(c.circuit), f"c{c.circuit}")]
    labelled = [c for c in chains if folded == c.label.casefold()]
    for group in (numbered, labelled):
        if len(group) == 1:
            return group[0]
    return None


def _together(verdicts: list[bool | None]) -> bool | None:
    if False in verdicts:
        return False
    return True if verdicts and None not in verdicts else None


def _answer(found: tuple[TestedCircuit, ...], untested: tuple[str, ...]) -> TestAnswer:
    failed = [c for c in found if c.passed is False]
    unsure = [c for c in found if c.passed is None and c.readings]
    answer: Answer
    if failed:
        answer, first = "not ok", failed[0]
        because = f"{first.id} {first.accessory}: {first.cause}"
        if len(failed) > 1:
            because += f"; {len(failed) - 1} more fail"
    elif unsure or untested:
        answer = "cannot say"
        because = (
            f"{unsure[0].id} {unsure[0].accessory} lacks {', '.join(unsure[0].readings[0].missing)}"
            if unsure else f"no reading of {untested[0]}"
        )
        more = len(unsure) + len(untested) - 1
        because += f", and {more} more are not whole" if more else ""
    else:
        answer, because = "ok", f"all {len(found)} accessories read as planned"
    return TestAnswer(answer, because, found, untested)


def judge_one(chain: Chain, r: Reading) -> JudgedReading:
    """Verdict on one row, with every deviation, the likeliest cause first."""
    missing = tuple(
        name for name in ("supply_v", "current_a", "load_v") if getattr(r, name) is None
    )
    found = list(drain(chain, r))
    low = high = None
    if r.supply_v is not None and r.current_a is not None and r.load_v is not None:
        low, high = (None, None) if chain.no_load else chain.current_band(r.load_v)
        found = [*flowing(chain, r, r.supply_v, r.current_a, r.load_v), *found]
    only_parked = r.parked_a is not None and len(missing) == 3
    passed: bool | None = not found
    if not found and missing and not only_parked:
        passed = None
    return JudgedReading(r, passed, low, high, tuple(found), () if only_parked else missing)


@record
class Measured:
    """A measured draw; ``kept`` says whether it may replace what the plan is sized for."""

    accessory: str
    each_a: float
    volts: float
    kept: bool
    why: str


def measured(chains: Sequence[Chain], answer: TestAnswer) -> tuple[Measured, ...]:
    """The largest sound current of every accessory, each piece, rounded up to 10 mA.

    Of a thing whose draw varies (typical below high) a smaller measured value is not kept: it may
    not have worked at its hardest, and a wire sized by it would be too thin. Of a motor's two
    directions the larger counts; what it draws at low speed sizes nothing and is not kept.
    """
    found: dict[str, Measured] = {}
    for chain, circuit in zip(chains, answer.circuits, strict=True):
        sound = [
            r.reading for r in circuit.readings
            if r.reading.current_a is not None and r.reading.load_v is not None
            and all(d.cause.startswith("wrong load") for d in r.deviations)
        ]
        if not sound:
            continue
        # The reading that asks for most at the rated volts sizes the plan.
        best = max(sound, key=lambda r: r.current_a or 0.0)
        assert best.current_a is not None
        assert best.load_v is not None
        each = math.ceil(100.0 * best.current_a / chain.quantity - 1e-6) / 100.0
        if chain.position == "low":
            continue
        planned = chain.current_band(best.load_v)[1] / 1.1
        varies = chain.load.typical_a < 0.999 * chain.load.rated_a or len(chain.load.exponents) > 1
        if chain.no_load:
            why = "it was tried without load, and its cable is sized for its pull"
            here = Measured(chain.accessory, each, best.load_v, False, why)
        elif varies and best.current_a < planned:
            why = "its draw varies, and it may draw more than it did now"
            here = Measured(chain.accessory, each, best.load_v, False, why)
        else:
            here = Measured(chain.accessory, each, round(best.load_v, 2), True, "")
        other = found.get(chain.accessory)
        if other is None or here.each_a > other.each_a:
            found[chain.accessory] = here
    return tuple(found.values())
