"""Saving: a copy stays, another's change is never lost, no file takes another's place."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from circuitplan.errors import InputError
from circuitplan.planfile.saving import create_file, replace_file, save_plan


def test_saving_keeps_a_copy_and_refuses_a_file_that_changed(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_bytes(b"a: 1\r\n")
    plan.chmod(0o640)
    read = hashlib.sha256(plan.read_bytes()).hexdigest()
    copy = save_plan(plan, "a: 2\r\n", read_sha256=read)
    assert (plan.read_bytes(), copy.read_bytes()) == (b"a: 2\r\n", b"a: 1\r\n")
    assert plan.stat().st_mode & 0o777 == 0o640
    with pytest.raises(InputError, match="changed while"):
        save_plan(plan, "a: 3\r\n", read_sha256=read)
    assert plan.read_bytes() == b"a: 2\r\n"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["plan.yaml", "plan.yaml.bak"]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    plan, link = tmp_path / "plan.yaml", tmp_path / "link.yaml"
    plan.write_text("a: 1\n")
    link.symlink_to(plan)
    replace_file(link, b"a: 2\n")
    assert link.is_symlink()
    assert plan.read_text() == "a: 2\n"


def test_a_new_file_never_takes_the_place_of_another(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    create_file(plan, b"a: 1\n")
    with pytest.raises(InputError, match="already"):
        create_file(plan, b"a: 2\n")
    assert plan.read_text() == "a: 1\n"
