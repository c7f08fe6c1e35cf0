"""``print``: the wiring summary as HTML, PDF or workbook, and the console card."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from circuitplan.cli.answers import UNUSABLE, exit_code, plain_data, print_lines
from circuitplan.cli.options import PlanFile, example
from circuitplan.errors import InputError, MissingSystemLibraryError, Problem

if TYPE_CHECKING:
    from circuitplan.model.plan import Plan
    from circuitplan.model.result import Result
    from circuitplan.report.paper.bench import Wishes
    from circuitplan.report.pdf import Enclosed

ENDINGS = (".html", ".pdf", ".xlsx")
BENCH = ("labels", "cuts", "parts", "drawings", "panels", "test", "faults")
AS_CSV = ("labels", "cuts", "parts", "test")
ONLY = ("card", "analysis", *BENCH)


@example(
    "circuitplan print examples/overloaded-compressor.yaml",
    "circuitplan print examples/owners-list.csv -o summary.html",
    "circuitplan print examples/workboat.yaml --only card -o card.html",
    "circuitplan print examples/owner.yaml --only card --fold -o card.html",
    "circuitplan print examples/owner.yaml --only cuts -o cuts.pdf --vehicles 3",
    "circuitplan print examples/owner.yaml --only labels -o labels.csv",
)
def print_plan(
    plan: PlanFile,
    output: Annotated[
        list[Path] | None,
        typer.Option(
            "--output",
            "-o",
            metavar="FILE",
            help="Where to write: .html, .pdf or .xlsx (every list, a sheet each), and .csv for "
            "labels, cuts, parts and test; may be given more than once. "
            "Without it: HTML and PDF beside the plan.",
            show_default=False,
        ),
    ] = None,
    only: Annotated[
        str | None,
        typer.Option(
            metavar="PART",
            help="One part alone: card, for the console; analysis, the written load analysis; "
            "labels; cuts, the cut list; parts, what to buy; drawings; panels; test, the "
            "commissioning sheet; faults, fault finding.",
            show_default=False,
        ),
    ] = None,
    vehicles: Annotated[
        int,
        typer.Option(
            metavar="N", help="Labels, cuts and parts for so many vehicles.", min=1, max=200
        ),
    ] = 1,
    reels: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTHS",
            help='Reels to cut from, "25 m, 100 m"; 5, 10, 25, 50 and 100 m if left out.',
            show_default=False,
        ),
    ] = None,
    prices: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="Your price list, .csv or .xlsx: what, size, colour, per, price, currency, "
            "minutes.",
            show_default=False,
        ),
    ] = None,
    label_size: Annotated[
        str | None,
        typer.Option(
            metavar="SIZE", help="flag, sleeve, or WxHmm.", show_default=False
        ),
    ] = None,
    card_size: Annotated[
        str | None,
        typer.Option(
            metavar="SIZE", help="A6, A5, 100x150mm, 4x6in, or WxHmm; A5 if left out.",
            show_default=False,
        ),
    ] = None,
    cut_marks: Annotated[
        bool, typer.Option("--cut-marks", help="Cut marks around each face of the card.")
    ] = False,
    fold: Annotated[
        bool, typer.Option("--fold", help="Two faces of the card side by side, to be folded.")
    ] = False,
    working: Annotated[
        bool, typer.Option("--working", help="The working of every circuit too, as an appendix.")
    ] = False,
    single: Annotated[bool, typer.Option("--single", help="One label a page.")] = False,
) -> int:
    """Print the wiring summary, or one part of the paper.

    It is written whatever the verdict; the exit code is that of the verdict.
    """
    targets = _targets(plan, output, only)
    from circuitplan.cli.paper_wishes import wishes
    from circuitplan.planfile import read_plan
    from circuitplan.planner import advised

    read = read_plan(plan)
    if prices is None and read.price_list is not None:  # the plan's own; the option rules over it
        prices = Path(plan).with_name(read.price_list)
    wanted = wishes(
        vehicles, reels, prices, label_size, single, card_size, cut_marks, fold, working
    )
    result = advised(read)
    from circuitplan.cli.terminal.problems import answer_lines

    lines = list(answer_lines(result.answer, result.because))
    code = exit_code(result.answer)
    html = ""
    for target in targets:
        try:
            if target.suffix.casefold() in (".html", ".pdf") and not html:
                html = _html(read, result, only, wanted)
            _write(target, read, result, html, only, wanted)
        except MissingSystemLibraryError as missing:
            lines.append(f"not written: {target}: {missing}")
            code = UNUSABLE if output else code
        else:
            lines.append(f"written: {target}")
    print_lines(lines)
    return code


def _targets(plan: str, output: list[Path] | None, only: str | None) -> list[Path]:
    if only is not None and only not in ONLY:
        raise InputError([_no_such_part(only)])
    if not output:
        stem = Path(plan).with_suffix("")
        name = stem.name + (f"-{only}" if only else "")
        return [stem.with_name(name + ending) for ending in (".html", ".pdf")]
    endings = _endings(only)
    problems = [
        Problem(str(path), "no form to print in", ", ".join(endings), "end the name in .html")
        for path in output
        if path.suffix.casefold() not in endings
    ]
    problems += [
        Problem(str(path), "there is no such folder", "a folder that exists", "make it first")
        for path in output
        if not path.parent.is_dir()
    ]
    problems += [
        Problem(str(path), "this is the plan itself", "another name", "print beside it")
        for path in output
        if path.resolve() == Path(plan).resolve()
    ]
    if problems:
        raise InputError(problems)
    return output


def _endings(only: str | None) -> tuple[str, ...]:
    if only in AS_CSV:
        return (*ENDINGS, ".csv")
    return ENDINGS if only in (None, "analysis", "panels") else ENDINGS[:2]


def _no_such_part(word: str) -> Problem:
    return Problem(
        "", f"there is no part called '{word}'", ", ".join(ONLY), "use one of these, or leave it"
    )


def _html(plan: Plan, result: Result, only: str | None, wanted: Wishes) -> str:
    if only in BENCH:
        from circuitplan.report.paper.bench import render

        return render(only, plan, result, wanted)
    if only == "card":
        from circuitplan.report.card import SIZES, render_card

        size = wanted.card or SIZES["A5"]
        return render_card(plan, result, size, marks=wanted.cut_marks, fold=wanted.fold)
    if only == "analysis":
        from circuitplan.report.analysis.document import render_analysis

        return render_analysis(plan, result)
    from circuitplan.report.html import render_html

    return render_html(plan, result, working=wanted.working)


def _enclosed(plan: Plan, result: Result) -> list[Enclosed]:
    """The plan as it was read and its result, to be kept inside the PDF."""
    import hashlib
    import json

    from circuitplan.report.pdf import Enclosed

    path = Path(plan.file)
    text = json.dumps(plain_data(result), ensure_ascii=False, indent=2, allow_nan=False)
    content = path.read_bytes()
    if hashlib.sha256(content).hexdigest() != plan.sha256:
        raise InputError(
            [Problem(str(path), "the file changed while this ran", "", "run the command again")]
        )
    drawn = []
    for one in plan.drawn_in:
        beside = path.with_name(one.name)
        data = beside.read_bytes()
        if hashlib.sha256(data).hexdigest() != one.sha256:
            raise InputError(
                [Problem(str(beside), "the file changed while this ran", "", "run it again")]
            )
        drawn.append(Enclosed(one.name, data, "Source", "A file that the plan draws in"))
    return [
        Enclosed(path.name, content, "Source", "The plan: circuitplan check reads it"),
        Enclosed(f"{path.stem}-result.json", text.encode(), "Data", "What was computed from it"),
        *drawn,
    ]


def _write(
    target: Path, plan: Plan, result: Result, html: str, only: str | None, wanted: Wishes
) -> None:
    """Write beside the target first, then rename: a failure never leaves half a file."""
    from circuitplan.planfile.saving import replace_file

    ending = target.suffix.casefold()
    if ending == ".html":
        replace_file(target, html.encode("utf-8"))
        return
    if ending == ".csv":
        from circuitplan.report.paper.bench import csv_of

        replace_file(target, csv_of(only or "", plan, result, wanted).encode("utf-8"))
        return
    handle, name = tempfile.mkstemp(suffix=ending)
    os.close(handle)
    made = Path(name)
    try:
        if ending == ".pdf":
            from circuitplan.report.pdf import write_pdf

            write_pdf(html, made, _enclosed(plan, result))
        elif only == "analysis":
            from circuitplan.report.analysis.workbook import write_analysis

            write_analysis(plan, result, made)
        else:
            from circuitplan.report.paper.workbook import write_workbook

            write_workbook(plan, result, wanted, made, only)
        replace_file(target, made.read_bytes())
    finally:
        made.unlink(missing_ok=True)
