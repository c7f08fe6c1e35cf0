"""The sections of the wiring summary, in print order; one folder each, view and template."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Section:
    """``name`` is the folder; ``contents``: the table of contents follows it.

    ``on_demand``: an appendix, printed where it is asked for.
    """

    name: str
    title: str
    numbered: bool = True
    contents: bool = False
    on_demand: bool = False


SECTIONS = (
    Section("title_block", "", numbered=False),
    Section("verdict", "", numbered=False),
    Section("at_a_glance", "", numbered=False, contents=True),
    Section("cautions", "Before work begins"),
    Section("switches", "Switches and their load"),
    Section("circuits", "Circuit schedule"),
    Section("distribution", "Distribution drawing"),
    Section("supply", "Supply and scenarios"),
    Section("findings", "Findings"),
    Section("wires", "Wire list"),
    Section("protection", "Fuses and relays"),
    Section("coordination", "Fuse against wire"),
    Section("warm_wires", "Warm wires"),
    Section("assumptions", "Assumptions"),
    Section("sign_off", "Sign-off"),
    Section("working", "Appendix: working of every circuit", on_demand=True),
)
