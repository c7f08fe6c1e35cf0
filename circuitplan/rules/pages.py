"""The text that ``explain`` prints: a rule's page, or what is known of a common failure."""

from __future__ import annotations

import textwrap
from difflib import get_close_matches

from circuitplan.library import store
from circuitplan.rules.base import Rule

WIDTH = 78
OPEN_QUESTIONS = (
    "Local codes, the instructions of the makers of vehicle and accessory, and licensed practice "
    "come before this page."
)


def of_rule(rule: Rule) -> str:
    """What the rule means, why it matters, how to mend it, an example, and its source."""
    verdict = (
        "fails: the plan is not OK while this stands"
        if rule.fails
        else "does not fail by itself: know it, and decide"
    )
    blocks = [
        f"{rule.id}  {rule.name}",
        f"{rule.signal_word}; {verdict}.",
        _block("What it means", rule.means),
        _block("Why it matters", rule.why),
        _block("How to mend it", rule.remedy),
    ]
    if rule.by_hand:
        blocks.append(_block("What to look for by hand", rule.by_hand))
    blocks.append(_block("Example", rule.example))
    blocks.append(_block("Source", f"{rule.source} (status: {rule.status})"))
    blocks.append(textwrap.fill(OPEN_QUESTIONS, WIDTH))
    return "\n\n".join(blocks) + "\n"


def of_failure(failure_id: str, rules: tuple[Rule, ...]) -> str:
    """One of the twenty ways in which such installations fail, and which rules say so beforehand.

    Raises LookupError for an id that is neither a failure's nor a rule's.
    """
    wanted = failure_id.strip().upper()
    rows = {row["id"]: row for row in store.rows("what_goes_wrong")}
    row = rows.get(wanted)
    if row is None:
        known = [*(rule.id for rule in rules), *rows]
        near = get_close_matches(wanted, known, n=3, cutoff=0.5)
        hint = (
            f"nearest: {', '.join(near)}" if near else "the ids run from A01 to X36 and G01 to G20"
        )
        raise LookupError(f"no rule or failure has the id {failure_id.strip()!r}; {hint}")
    names = {rule.id: rule.name for rule in rules}
    said_by = [part.strip() for part in row["said_by"].split(";") if part.strip()]
    told = [
        f"  {rule_id}  {names.get(rule_id, 'not a rule of this version')}" for rule_id in said_by
    ]
    blocks = [
        f"{wanted}  {row['what_happened']}",
        _block("What the plan says beforehand", row["what_to_say"]),
        "Said by\n" + ("\n".join(told) if told else "  no rule"),
        textwrap.fill(OPEN_QUESTIONS, WIDTH),
    ]
    return "\n\n".join(blocks) + "\n"


def _block(head: str, text: str) -> str:
    body = textwrap.fill(text, WIDTH, initial_indent="  ", subsequent_indent="  ")
    return f"{head}\n{body}"
