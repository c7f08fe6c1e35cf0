"""A plan from a file: the one way in. Every problem of the input is told at once."""

from __future__ import annotations

from dataclasses import replace
from hashlib import sha256
from os import PathLike
from pathlib import Path
from typing import NoReturn

from circuitplan.errors import InputError, Problem
from circuitplan.model.plan import Plan
from circuitplan.planfile import coil_switches, links, motors, yaml_file
from circuitplan.planfile.sections import read_tree
from circuitplan.planfile.tree import Node, Spot, Troubles

LARGEST_BYTES = 2_000_000
ENDINGS = (".yaml", ".yml", ".csv", ".xlsx")


def read_plan(path: str | PathLike[str]) -> Plan:
    """Read a plan file (.yaml), or a list or workbook of accessories (.csv, .xlsx).

    Raises ``InputError`` with every problem found: where, what, what is allowed, how to mend it.
    """
    file = Path(path)
    name = str(path)
    ending = file.suffix.lower()
    if ending not in ENDINGS:
        _stop(name, f"a file that ends in '{file.suffix}'" if ending else "a name without ending",
              ", ".join(ENDINGS), "save it in one of these forms, with that ending")  # fmt: skip
    data = _bytes(file, name)
    if ending == ".xlsx":
        from circuitplan.planfile import workbook

        troubles = Troubles()
        root = workbook.tree(data, name, troubles)
        return _finished(root, troubles, name, data, formatted=False)
    text = _decoded(data, name)
    if ending == ".csv":
        from circuitplan.planfile import sheets

        troubles = Troubles()
        root = sheets.csv_tree(text, name, troubles)
        return _finished(root, troubles, name, data, formatted=False)
    return _yaml(text, name, data)


def read_text(text: str, file: str = "plan.yaml") -> Plan:
    """Read a plan from YAML text; ``file`` is the name that problems carry."""
    return _yaml(text, file, text.encode("utf-8", "surrogatepass"))


def _yaml(text: str, name: str, data: bytes) -> Plan:
    if len(data) > LARGEST_BYTES:
        _too_large(name, len(data))
    troubles = Troubles()
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    root = yaml_file.compose(plain, name, troubles)
    return _finished(root, troubles, name, data, formatted=True)


def _finished(root: Node, troubles: Troubles, name: str, data: bytes, formatted: bool) -> Plan:
    plan = read_tree(root, troubles, formatted)
    spots = _spots(root)
    links.check(plan, spots, troubles)
    motors.check(plan, spots, troubles)
    troubles.raise_if_any()
    return replace(
        coil_switches.settled(plan), file=name, sha256=sha256(data).hexdigest(),
        unused=(*plan.unused, *links.unused(plan)),
    )


def _spots(root: Node) -> dict[str, Spot]:
    """Every position of the tree, by its text."""
    found: dict[str, Spot] = {}
    waiting = [root]
    while waiting:
        node = waiting.pop()
        found[str(node.spot)] = node.spot
        waiting += node.items or ()
        for key, value in node.entries or ():
            waiting += (key, value)
    return found


def _bytes(file: Path, name: str) -> bytes:
    try:
        if file.is_dir():
            _stop(name, "a directory", "a plan file", "name a file in it")
        size = file.stat().st_size
        if size > LARGEST_BYTES:
            _too_large(name, size)
        return file.read_bytes()
    except FileNotFoundError:
        near = _alike(file)
        remedy = (
            f"did you mean {near}?" if near else "check the name; 'circuitplan begin' makes one"
        )
        _stop(name, "no such file", "a plan that is there", remedy)
    except (OSError, ValueError) as error:
        said = error.strerror if isinstance(error, OSError) else str(error)
        _stop(name, f"a file that cannot be read: {said}", "a readable file", "check its rights")


def _alike(file: Path) -> str | None:
    from circuitplan.planfile.tree import nearest

    try:
        names = [p.name for p in file.parent.iterdir() if p.suffix.lower() in ENDINGS]
    except OSError:
        return None
    return nearest(file.name, sorted(names))


def _decoded(data: bytes, name: str) -> str:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        _stop(name, "text in UTF-16", "text in UTF-8", "save it again as UTF-8 (or 'CSV UTF-8')")
    if b"\0" in data:
        _stop(name, "binary data, not text", "plain text in UTF-8", "this may be another file")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        _stop(name, f"a byte that is not UTF-8 ({data[error.start]:#04x})", "text in UTF-8",
              "save it again as UTF-8 (in a spreadsheet: 'CSV UTF-8')", line)  # fmt: skip


def _too_large(name: str, size: int) -> NoReturn:
    _stop(name, f"a file of {size / 1e6:.1f} MB", f"at most {LARGEST_BYTES / 1e6:g} MB",
          "this may be another file; a plan of hundreds of accessories has 0.1 MB")  # fmt: skip


def _stop(name: str, found: str, allowed: str, remedy: str, line: int | None = None) -> NoReturn:
    where = f"{name}, line {line}" if line else name
    raise InputError([Problem(where, found, allowed, remedy, name, line)])
