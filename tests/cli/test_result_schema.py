"""The shipped JSON Schema of the result fits the code, and every example's result fits it."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

import circuitplan
from circuitplan.cli import main
from circuitplan.model.result_schema import result_schema

SHIPPED = Path(circuitplan.__file__).with_name("model") / "result.schema.json"
EXAMPLES = sorted(
    p for p in (Path(__file__).resolve().parents[2] / "examples").iterdir()
    if p.suffix in (".yaml", ".csv")
)


def test_shipped_schema_is_in_step() -> None:
    """Make it anew with ``python -m circuitplan.model.result_schema``."""
    assert json.loads(SHIPPED.read_text(encoding="utf-8")) == result_schema()
    jsonschema.Draft202012Validator.check_schema(result_schema())


@pytest.mark.parametrize("plan", EXAMPLES, ids=lambda p: p.name)
def test_every_example_fits_the_schema(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["check", str(plan), "--json"])
    result = json.loads(capsys.readouterr().out)
    jsonschema.validate(result, result_schema())
    assert code == (0 if result["answer"] == "ok" else 1)


def test_schema_refuses_a_word_that_is_no_answer(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(EXAMPLES[0]), "--json"])
    result = json.loads(capsys.readouterr().out)
    result["answer"] = "fine"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(result, result_schema())
