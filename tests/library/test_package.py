"""The tables as a whole: a valid data package, every row with status and source."""

from __future__ import annotations

import csv
import warnings
from pathlib import Path

import pytest

from circuitplan.errors import TableError
from circuitplan.library import store

NAMES = store.names()


def test_package_is_valid_by_the_data_package_reader() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the reader's own dependencies warn of their future
        from frictionless import Package

        report = Package(str(store.folder() / store.DESCRIPTOR)).validate()
    problems = report.flatten(["path", "rowNumber", "fieldName", "note"])
    assert problems == []
    assert len(report.tasks) == len(NAMES)


def test_every_csv_is_described_and_every_description_has_its_csv() -> None:
    files = {path.stem for path in store.folder().glob("*.csv")}
    assert files == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_rows_are_whole(name: str) -> None:
    entry = store.describe(name)
    fields = [field["name"] for field in entry["schema"]["fields"]]
    rows = store.rows(name)
    assert rows, "an empty table"
    assert list(rows[0]) == fields
    key = entry["schema"]["primaryKey"]
    keys = [tuple(row[column] for column in key) for row in rows]
    assert len(set(keys)) == len(keys)
    for row in rows:
        assert row["status"] in store.STATUSES
        assert row["source"].strip()
        for cell in row.values():
            assert cell == cell.strip()
            assert "\n" not in cell


@pytest.mark.parametrize("name", NAMES)
def test_descriptor_says_where_and_under_which_conditions(name: str) -> None:
    entry = store.describe(name)
    assert entry["title"]
    assert all(source["title"] for source in entry["sources"])
    assert "conditions" in entry
    for field in entry["schema"]["fields"]:
        assert field["description"]
        if field["type"] in ("number", "integer") and field["name"].rsplit("_", 1)[-1] in {
            "a", "v", "c", "s", "ohm", "mohm", "mm", "mm2", "ms",
        }:  # fmt: skip
            assert field["unit:ucum"], f"{name}.{field['name']} has no unit"


@pytest.mark.parametrize("name", NAMES)
def test_file_is_plain_utf8_with_unix_lines(name: str) -> None:
    raw = (store.folder() / f"{name}.csv").read_bytes()
    assert not raw.startswith(b"\xef\xbb\xbf")
    assert b"\r" not in raw
    assert raw.endswith(b"\n")
    raw.decode("utf-8")


def test_locate_prefers_the_installed_tables(tmp_path: Path) -> None:
    package = tmp_path / "circuitplan"
    checkout = tmp_path / "tables"
    installed = package / "_tables"
    for folder in (checkout, installed):
        folder.mkdir(parents=True)
    (checkout / store.DESCRIPTOR).write_text("{}")
    assert store.locate(package) == checkout
    (installed / store.DESCRIPTOR).write_text("{}")
    assert store.locate(package) == installed


def test_missing_tables_say_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(TableError, match="Install circuitplan again"):
        store.locate(tmp_path / "circuitplan")


def test_damaged_tables_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    with pytest.raises(TableError, match="missing"):
        store.read_csv(path)
    path.write_text("")
    with pytest.raises(TableError, match="empty"):
        store.read_csv(path)
    path.write_text("a,b\n1,2\n1,2,3\n")
    with pytest.raises(TableError, match="row 3: 3 cells, 2 wanted"):
        store.read_csv(path)


def test_quoted_commas_and_hash_signs_are_text(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    with path.open("w", newline="") as stream:
        csv.writer(stream).writerows([["a", "b"], ["fits #10, both", "4/0"]])
    assert store.read_csv(path) == ({"a": "fits #10, both", "b": "4/0"},)


def test_unknown_table_names_the_known_ones() -> None:
    with pytest.raises(TableError, match="kinds"):
        store.describe("no such table")
