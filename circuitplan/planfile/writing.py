"""A list or workbook of accessories written as a plan file, so that it can be kept and changed."""

from __future__ import annotations

from pathlib import Path

from circuitplan.model.plan import Plan, Running
from circuitplan.planfile.fields import TOP
from circuitplan.planfile.reading import read_plan
from circuitplan.planfile.scalars import Value, render, scalar
from circuitplan.planfile.tree import Node, Troubles

_REFERENCES = ("switch", "needs", "never_with", "order")


def plan_text(path: Path, plan: Plan | None = None) -> str:
    """The YAML text of a plan: the file itself, or what its sheet says.

    ``plan``: what was read from that file, where it was read before.
    Raises InputError, as ``read_plan`` does, when the file cannot be used.
    """
    plan = plan or read_plan(path)
    ending = path.suffix.casefold()
    if ending in (".yaml", ".yml"):
        return path.read_bytes().decode("utf-8")
    troubles = Troubles()
    if ending == ".csv":
        from circuitplan.planfile import sheets

        root = sheets.csv_tree(path.read_bytes().decode("utf-8"), str(path), troubles)
    else:
        from circuitplan.planfile import workbook

        root = workbook.tree(path.read_bytes(), str(path), troubles)
    return sheet_as_yaml(root, plan, path.name)


def sheet_as_yaml(root: Node, plan: Plan, source: str) -> str:
    """The tree of a sheet as a plan file, an entry a line; reads back as the same plan."""
    lines = ["circuitplan: 1", f"# made from {source}"]
    if not plan.nominal_given:
        lines.append("# system: 12 V   (the list does not say; this is assumed)")
    top = {field.key for field in TOP.fields}
    entries = [(key.text or "", value) for key, value in root.entries or ()]
    entries.sort(key=lambda entry: entry[0] not in top)
    for key, value in entries:
        if key == "circuitplan":
            continue
        if value.items is not None:
            lines.append(f"{scalar(key)}:")
            lines += [f"  - {render(_value(item, key, plan))}" for item in value.items]
        elif value.entries is not None:
            lines.append(f"{scalar(key)}:")
            for name, node in value.entries:
                lines.append(f"  {scalar(name.text or '')}: {render(_value(node, '', plan))}")
        else:
            lines.append(f"{scalar(key)}: {scalar(value.text or '')}")
    return "\n".join(lines) + "\n"


def _value(node: Node, section: str, plan: Plan) -> Value:
    if node.items is not None:
        return [_value(item, "", plan) for item in node.items]
    if node.entries is None:
        return node.text or ""
    found: dict[str, Value] = {}
    name = node.get("name")
    for key_node, value in node.entries:
        key = key_node.text or ""
        if value.is_text and (key in _REFERENCES or key == "running"):
            found[key] = _split(section, (name.text or "") if name else "", key, plan)
        else:
            found[key] = _value(value, "", plan)
    return found


def _split(section: str, name: str, key: str, plan: Plan) -> Value:
    """A cell that holds several names, as the plan read it."""
    if section == "accessories":
        accessory = next(a for a in plan.accessories if a.name.casefold() == name.casefold())
        field = {"switch": "switches"}.get(key, key)
        names: tuple[str, ...] = getattr(accessory, field)
        return names[0] if len(names) == 1 else names
    if section == "days":
        return next(d.order for d in plan.days if d.name.casefold() == name.casefold())
    scenario = next(s for s in plan.scenarios if s.name.casefold() == name.casefold())
    return {run.name: _amount(run) for run in scenario.running}


def _amount(run: Running) -> str:
    if run.share is not None:
        return f"{run.share * 100:.10g} %"
    return f"{run.seconds or 0.0:.10g} s"
