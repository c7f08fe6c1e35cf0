"""F09: the start of the load may melt its fuse."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import cures, proposals
from circuitplan.rules.base import Case, Finding, FusePlace, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="F09",
    name="start may melt the fuse",
    signal_word="WARNING",
    fails=True,
    means="Starting draws a multiple of the running current for a moment. Adding up that moment "
    "against the soonest the fuse may melt gives a sum; 0.7 is allowed, at 1 it may melt.",
    why="The fuse blows on a start, above all on a compressor that starts against pressure. "
    "Fitting a larger fuse then takes the protection from the wire: fire.",
    remedy="Fit a slower type of the same rating before a larger rating; for a compressor see that "
    "the check valve and unloader let it start without pressure. A winch or another short-time "
    "machine on the battery that no fuse bears: the way of the trade is an isolator in place of "
    "the fuse, which a person accepts by name (explain F05).",
    source="ISO 8820-3 and -5 least melting times; 0.7 is judgement",
    status="judgement",
    example="A 25 A motor that starts at 7 times, fading in 0.1 s: 40 A of type C gives 2.0, 40 A "
    "of type E gives 0.53.",
)

ALLOWED = proposals.START_ALLOWED
OTHERWISE = "Give the load a soft start, or thicker wire and a larger, slower fuse."
BY_ITS_PULL = (
    "Its pull is its start, which no soft start changes: give it thicker wire and a larger, slower "
    "fuse, or feed it from the battery itself, with an isolator (circuitplan explain F05)."
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        share = place.fuse.rides_through
        if share is None:
            yield Skip(f"the start behind {place.fuse.id} is not known", place.subject)
        elif exceeds(share, ALLOWED):
            yield _finding(case, place, share)


def _finding(case: Case, place: FusePlace, share: float) -> Finding:
    fuse = place.fuse
    found, limit = ordered(share, ALLOWED)
    if share > 100.0:
        found = "many times"
    pulls = place.circuit is not None and case.own_contactor(place.circuit)
    remedy, change = BY_ITS_PULL if pulls else OTHERWISE, None
    owner = place.circuit or place.panel
    if owner is not None:
        remedy, change = cures.remedy(owner, RULE.id, fuse.id, remedy)
    return RULE.finding(
        place.subject,
        f"The start of {place.subject} uses {found} of what {fuse.id} ({num(fuse.rating_a)} A "
        f"{fuse.type}) may withstand; {limit} is allowed. It may blow on any start, and a larger "
        "fuse in its place would leave the wire without protection: fire.",
        remedy,
        found=share,
        limit=ALLOWED,
        change=change,
        circuit=place.circuit_id,
    )
