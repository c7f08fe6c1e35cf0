"""S07: the fuse is larger than the contacts of what hangs behind it bear."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num

RULE = Rule(
    id="S07",
    name="fuse larger than the socket bears",
    signal_word="WARNING",
    fails=True,
    means="A socket's contacts bear so much and no more. Its fuse must open before they are "
    "overloaded: it may not be larger than the socket's own rating.",
    why="Whoever plugs in a kettle or an inflator draws what the fuse allows; the contacts get hot "
    "and the socket melts.",
    remedy="Fit a fuse of the socket's rating; give several sockets circuits of their own.",
    source="accessory sockets bear 10 to 15 A",
    status="second-hand",
    example="Two sockets of 15 A behind one fuse of 30 A: two circuits of 15 A.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        most_a = item.kind.max_fuse_a if item.kind is not None else None
        if most_a is None:
            continue
        ratings = [
            f.rating_a for f in item.circuit.fuses
            if any(r.protected_by == f.id and item.name in r.accessories for r in item.circuit.runs)
        ]
        smallest = min(ratings, default=None)
        if smallest is None or not exceeds(smallest, most_a):
            continue
        yield RULE.finding(
            item.name,
            f"{item.name} hangs behind a fuse of {num(smallest)} A; its contacts bear "
            f"{num(most_a)} A. In use they overheat and the socket melts: fire.",
            f"Fit {num(most_a)} A, and give several sockets circuits of their own.",
            found=smallest,
            limit=most_a,
            unit="A",
            circuit=item.circuit.id,
            change=f"{item.name} fuse {num(most_a)} A",
        )
