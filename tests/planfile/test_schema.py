"""The shipped JSON Schema keeps step with the reader's tables, and judges alike."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest
from ruamel.yaml import YAML

from circuitplan.planfile import schema

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
SHIPPED = json.loads(schema.SHIPPED.read_text(encoding="utf-8"))


def test_the_shipped_file_is_the_one_made_now() -> None:
    assert schema.SHIPPED.read_text(encoding="utf-8") == schema.as_text()


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SHIPPED)


def plain(text: str) -> object:
    """A YAML text as an editor sees it, dates as text."""
    return json.loads(json.dumps(YAML(typ="safe", pure=True).load(text), default=str))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_pass(path: Path) -> None:
    jsonschema.validate(plain(path.read_text(encoding="utf-8")), SHIPPED)


@pytest.mark.parametrize(
    "text",
    [
        "accessories: []",
        "circuitplan: 2\naccessories: []",
        "circuitplan: 1\naccessories: [{name: A, lenght: 5 m}]",
        "circuitplan: 1\naccessories: [{kind: fan}]",
        "circuitplan: 1\naccessories: [{name: A, power: 40}]",
        "circuitplan: 1\nsystem: 400 V\naccessories: []",
        "circuitplan: 1\nlegs: [[a, b]]\naccessories: []",
        "circuitplan: 1\nswitches: {S1: {type: rotary}}\naccessories: []",
    ],
)
def test_what_the_reader_refuses_fails_here_too(text: str) -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(plain(text), SHIPPED)
