"""``decalesce inventory``: a rack in, a plan for every bar out."""

import sys
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import arguments, options

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from decalesce.cli.page import Page
    from decalesce.inventory import CertificateReport, Evaluation, Finding

#: A longer rack prints its counts only; its rows go to ``--output``.
_LONGEST_PAGE = 1000

_Rack = Annotated[Path, typer.Argument(metavar="RACK", help="The rack: CSV, XLSX or Parquet, one row a bar.")]
_Certificates = Annotated[
    list[Path] | None,
    typer.Option("--certificates", metavar="FILE|FOLDER", help="Mill certificates, joined by heat; may be repeated."),
]
_Output = Annotated[
    Path | None,
    typer.Option("--output", metavar="FILE", help="Write the rack with its results: .csv, .xlsx or .parquet."),
]
_Plans = Annotated[bool, typer.Option("--plans", help="A short plan for each bar.")]
_Target = Annotated[
    float | None,
    typer.Option(
        "--target", metavar="HARDNESS", parser=arguments.hardness, help="Wanted hardness of rows that state none."
    ),
]


def command(
    rack: _Rack,
    *,
    certificates: _Certificates = None,
    output: _Output = None,
    plans: _Plans = False,
    target: _Target = None,
    temper_time: options.TemperTime = None,
    furnace: options.FurnaceKind = options.Furnace.still_electric,
    json: options.Json = False,
    units: options.PrintUnits = options.Units.metric,
    strict: options.Strict = False,
) -> None:
    """Evaluate a rack: a plan for every bar, every flagged row explained, shared furnace loads.

    \b
    Example:
      decalesce inventory bar_rack.csv --certificates certificates --output plans.csv
    """
    import decalesce as dc
    from decalesce._visible import visible
    from decalesce.cli import answer, document, rack_page
    from decalesce.cli.commands.soak import works
    from decalesce.cli.waiting import waiting

    temper_time_s = float(dc.units.time_s(temper_time or options.TEMPER_TIME))
    given: dict[str, Any] = {
        "certificates": certificates or None,
        "shop": furnace.value,
        "target": target,
        "temper_time": temper_time_s,
    }
    if rack.is_dir():
        raise typer.BadParameter(f"RACK = {str(rack)!r} is a folder; expected a CSV, XLSX or Parquet file")
    if not rack.is_file():
        raise typer.BadParameter(f"RACK = {str(rack)!r}: there is no such file; expected a CSV, XLSX or Parquet file")
    cautions = dc.plan.cautions(*works(furnace.value))
    if output is not None:
        with waiting(f"reading {rack.name}, writing {output.name}") as told:
            found: list[Finding] = []
            counts = dc.inventory.evaluate_file(rack, output, on_rows=told, on_findings=found.extend, **given)
        if sum(counts.values()) > _LONGEST_PAGE and not json:
            _give_counts(rack, output, counts, found, cautions, units=units, strict=strict)
            return
    with waiting(f"reading {rack.name}"):
        evaluation = dc.inventory.evaluate(rack, **given)
    if len(evaluation) > _LONGEST_PAGE and not json:
        _give_counts(rack, output, evaluation.counts, evaluation.table_findings, cautions, units=units, strict=strict)
        return
    names = rack_page.piece_names(evaluation)
    content = document.document(
        "inventory",
        {
            "source": str(rack),
            "rows": len(evaluation),
            "counts": evaluation.counts,
            "table": [_finding(finding) for finding in evaluation.table_findings],
            "bars": document.Rows(lambda: _bars(evaluation, names)),
            "loads": {"harden": evaluation.harden, "temper": evaluation.temper},
            "certificates": [_report(report) for report in evaluation.reports],
            "output": None if output is None else str(output),
        },
        cautions,
        levels=_levels(evaluation.counts, evaluation.table_findings),
        cite=_cited(evaluation),
        flags=rack_page.flags_of(evaluation, names),
    )

    def show(page: "Page") -> None:
        page.title(visible(f"{rack.name}: {len(evaluation)} rows, {len(evaluation.reports)} certificate files"))
        rack_page.counts(page, evaluation.counts)
        if output is not None:
            page.text(visible(f"Written to {output}: the rows as they came, the results beside."))
        rack_page.table_findings(page, evaluation.table_findings)
        shown = [visible(name) for name in names]
        _print_rows(page, evaluation, shown, plans=plans, temper_time_s=temper_time_s)
        rack_page.certificates(page, evaluation)
        page.cautions(cautions)

    if json:
        document.write(content, sys.stdout)
        if strict and content["level"] != "note":
            raise typer.Exit(answer.STRICT)
        return
    answer.give(content, show, json=False, units=units, strict=strict)


def _print_rows(page: "Page", evaluation: "Evaluation", names: list[str], *, plans: bool, temper_time_s: float) -> None:
    from decalesce.cli import rack_page

    if len(evaluation):
        rack_page.bars(page, evaluation, names)
        rack_page.loads(page, evaluation, names)
        if plans:
            rack_page.cards(page, evaluation, names, temper_time_s)
    rack_page.doubts(page, evaluation, names)
    rack_page.plan_flags(page, evaluation, names)


def _give_counts(
    rack: Path,
    output: Path | None,
    counts: dict[str, int],
    found: "Sequence[Finding]",
    cautions: Any,
    *,
    units: options.Units,
    strict: bool,
) -> None:
    """A long rack: how many rows came out at each level; the rows themselves belong in a file."""
    from decalesce._visible import visible
    from decalesce.cli import answer, rack_page, words

    def show(page: "Page") -> None:
        page.title(visible(f"{rack.name}: {sum(counts.values())} rows"))
        rack_page.counts(page, counts)
        if output is None:
            page.text("Too many rows for a page; add --output plans.csv for all of them, with the reasons.")
        else:
            page.text(visible(f"Written to {output}: the rows as they came, the results and the reasons beside."))
        rack_page.table_findings(page, found)
        page.cautions(cautions)

    level = words.gravest(_levels(counts, found))
    answer.give({"level": level}, show, json=False, units=units, strict=strict)


def _levels(counts: dict[str, int], found: "Sequence[Finding]") -> list[str]:
    """The levels of the rows and of the table as a whole."""
    return [*(level for level in ("note", "caution", "stop") if counts[level]), *(f.rule.level_name for f in found)]


def _finding(finding: "Finding") -> dict[str, Any]:
    return {
        "rule": finding.rule.id,
        "level": finding.rule.level_name,
        "seen": finding.raw,
        "message": finding.message,
    }


def _bars(evaluation: "Evaluation", names: list[str]) -> "Iterator[dict[str, Any]]":
    """One object a row: every result column, flags and messages as lists."""
    from decalesce.cli import rack_page

    for i, (name, row) in enumerate(zip(names, rack_page.records(evaluation), strict=True)):
        numbers: dict[str, Any] = {
            key: None if isinstance(value, float) and not isfinite(value) else value for key, value in row.items()
        }
        numbers["flags"] = [flag for flag in str(row["flags"]).split("; ") if flag]
        del numbers["message"]
        messages = [m for m in str(row["message"]).split(" | ") if m]
        yield {"row": i + 1, "piece": name, **numbers, "messages": messages}


def _report(report: "CertificateReport") -> dict[str, Any]:
    return {
        "file": report.file,
        "rows": report.rows,
        "used": report.used,
        "heats": report.heats,
        "level": report.level,
        "messages": report.messages(),
    }


def _cited(evaluation: "Evaluation") -> list[str]:
    """Where the grades of the rack come from: their limits and what is published of them."""
    keys = {grade.source for grade in evaluation.rack.grades}
    return sorted(keys | {fact.source for grade in evaluation.rack.grades for fact in grade.published("quench_medium")})
