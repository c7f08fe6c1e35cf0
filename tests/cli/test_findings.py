"""Findings of one rule under one head."""

from __future__ import annotations

import pytest

from circuitplan.cli.terminal.findings import finding_lines
from circuitplan.model.result import Finding


def notice(subject: str, remedy: str) -> Finding:
    return Finding("F08", "NOTICE", False, subject, None, None, None, f"{subject} goes dark.",
                   remedy, None, "common practice", None)  # fmt: skip


@pytest.mark.parametrize(("subjects", "remedy", "said"), [
    # "dark" stands in the remedy by chance: it is not about that panel.
    (("main", "dark"), "Keep what must not go dark apart.", ["Keep what must not go dark apart."]),
    (("main", "rear"), "Feed {0} apart.", ["Feed this one apart."]),
    (("main", "main"), "Feed {0} apart.", ["Feed main apart."]),
])
def test_one_remedy_is_said_once(
    subjects: tuple[str, ...], remedy: str, said: list[str]
) -> None:
    lines = list(finding_lines([notice(s, remedy.format(s)) for s in subjects], None))
    assert [ln.split(": ", 1)[1] for ln in lines if "To mend it: " in ln] == said
    assert sum(" goes dark." in ln for ln in lines) == len(subjects)


def test_different_remedies_are_all_said() -> None:
    lines = list(finding_lines([notice("a", "Do this."), notice("b", "Do that.")], None))
    told = [ln.split(": ", 1)[1] for ln in lines if "To mend it: " in ln]
    assert told == ["Do this.", "Do that."]
