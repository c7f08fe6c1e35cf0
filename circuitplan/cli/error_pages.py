"""What each error of the input means and how to mend it: the pages of ``explain`` for errors."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ErrorPage:
    """One sort of error; ``words`` are those by which people look for it."""

    name: str
    words: str
    means: str
    mend: str


PAGES = (
    ErrorPage(
        "no unit",
        "unit units bare number missing dimension",
        "A number stands where a quantity is needed. 6 could be amperes, metres or millimetres, "
        "and a guess could pick a wire that burns.",
        "write the unit: 6 A, 2.5 mm2, 14 AWG, 4.2 m, 7' 6\", 85 °C, 3 %.",
    ),
    ErrorPage(
        "comma in a number",
        "comma decimal 2,5",
        "A comma separates entries in YAML, so 2,5 reads as 2 and a stray 5. Only a spreadsheet "
        "with semicolons between its cells may use decimal commas.",
        "write a point: 2.5 mm2. Put a name that holds a comma in quotes.",
    ),
    ErrorPage(
        "unknown key",
        "key keys word unexpected column",
        "A word before a colon (or a column head) is not one the plan knows. It is refused, not "
        "skipped: a misspelt 'fuse' would leave the plan without your fuse.",
        "use the nearest word that the message names.",
    ),
    ErrorPage(
        "unknown name",
        "name names reference switch panel place battery",
        "Something refers to a switch, panel, place, battery, accessory or scenario that the plan "
        "does not list.",
        "correct the spelling, or list the thing in its section.",
    ),
    ErrorPage(
        "unknown kind",
        "kind kinds accessory",
        "The kind of an accessory is not in the table of kinds, so nothing is known of its draw.",
        "take a kind from 'circuitplan tables kinds', or give the power or current yourself.",
    ),
    ErrorPage(
        "name cut short",
        "cut short hash comment #",
        "In YAML a space and # begin a remark, so 'Roof #2' without quotes is read as 'Roof'.",
        'put the name in quotes: "Roof #2".',
    ),
    ErrorPage(
        "duplicate name",
        "duplicate twice double same",
        "Two entries have the same name (capitals do not count), so a reference would be unclear.",
        "rename one of them.",
    ),
    ErrorPage(
        "over 60 V",
        "60 volt volts voltage high mains inverter ac",
        "Above 60 V DC, and on the AC side of an inverter, other rules and other dangers hold. "
        "This program does not cover them and refuses rather than guess.",
        "plan that part with a person qualified for it; keep this plan to 12, 24 or 48 V.",
    ),
    ErrorPage(
        "nominal voltage",
        "system nominal 12 24 48",
        "The system of a plan is 12, 24 or 48 V nominal.",
        "write system: 12 V. Other voltages up to 60 V: circuitplan size --system.",
    ),
    ErrorPage(
        "broken YAML",
        "yaml broken indent indentation colon bracket syntax",
        "The file does not hold together as YAML: a bracket that never closes, a tab, or lines "
        "that stand at different depths.",
        "look at the line named and the one above it; indent with spaces; quote odd names.",
    ),
    ErrorPage(
        "no format number",
        "format circuitplan: 1 version first line",
        "A plan says which format it is written in, so that an old plan never changes meaning.",
        "begin the file with: circuitplan: 1",
    ),
    ErrorPage(
        "panel feeding itself",
        "ring loop itself feeds feeding",
        "Following 'fed_from' from panel to panel leads back to the start; no source feeds it.",
        "let one panel of the ring be fed from a battery.",
    ),
    ErrorPage(
        "spreadsheet cell",
        "cell merged formula sheet xlsx csv workbook",
        "Merged cells, formulas without a stored value and error values have no value to read.",
        "unmerge the cells, and paste values in place of formulas.",
    ),
    ErrorPage(
        "wire size",
        "size gauge awg mm2 sae wire",
        "The size is none of its gauge. 14 AWG, 14 SAE and 2.5 mm2 are three different wires.",
        "take a size from 'circuitplan tables conductors', with its word: mm2, AWG or SAE.",
    ),
    ErrorPage(
        "the file changed",
        "changed meanwhile sha256 overwritten",
        "Between reading and writing, somebody else saved the plan.",
        "nothing was written; run the command again.",
    ),
    ErrorPage(
        "missing library for PDF",
        "pango pdf library weasyprint install",
        "PDF needs the text library Pango, which is no Python package.",
        "install what the message names, or print HTML: -o summary.html.",
    ),
    ErrorPage(
        "cannot say",
        "cannot say unknown assumed decides undecided",
        "A limit holds at one end of an assumed value and fails at the other, so there is no "
        "honest yes or no.",
        "measure or look up the value that the finding names, and write it in the plan.",
    ),
)


def named(words: str) -> ErrorPage | None:
    """The page of exactly that name."""
    plain = " ".join(words.casefold().split())
    return next((page for page in PAGES if page.name.casefold() == plain), None)


def find(words: str) -> ErrorPage | None:
    """The page with most words in common with ``words``; None when there is none."""
    wanted = set(words.casefold().replace("'", " ").replace(",", ", ").split())

    def score(page: ErrorPage) -> int:
        return 2 * len(wanted & set(page.name.casefold().split())) + len(
            wanted & set(page.words.split())
        )

    best = max(PAGES, key=score)
    return best if score(best) else None
