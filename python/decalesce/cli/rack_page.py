"""A rack on a page: counts, one line a bar, every flagged row in a sentence, the loads, the certificates."""

from collections import Counter
from collections.abc import Iterable, Iterator
from math import isnan
from typing import TYPE_CHECKING, Any

from decalesce._visible import visible
from decalesce.cli import document, words
from decalesce.cli.measures import NO_ANSWER
from decalesce.cli.page import Page

if TYPE_CHECKING:
    from decalesce.inventory import Evaluation, Finding, Rule
    from decalesce.plan import Load

_MINUTE_S = 60.0
#: Narrower pages set the bars closer.
_WIDE = 100
#: Rows turned into objects at once.
_AT_A_TIME = 1000
_LEVELS = ("stop", "caution", "note", "clean")


def piece_names(evaluation: "Evaluation") -> list[str]:
    """The shop's own mark of each row; ``#`` and the row where there is none or several share it."""
    marks = [str(mark or "") for mark in evaluation.rack.piece_id.to_list()]
    often = Counter(marks)
    return [
        f"#{i + 1}" if not mark else mark if often[mark] == 1 else f"{mark} #{i + 1}" for i, mark in enumerate(marks)
    ]


def records(evaluation: "Evaluation") -> Iterator[dict[str, Any]]:
    """The result columns of each row by name, made a few at a time."""
    for start in range(0, len(evaluation), _AT_A_TIME):
        part = evaluation.results.iloc[start : start + _AT_A_TIME]
        yield from ({str(name): value for name, value in row.items()} for row in part.to_dict("records"))


def counts(page: Page, found: dict[str, int]) -> None:
    """Rows by level, in words."""
    said = {
        "clean": "with nothing to say",
        "note": "with notes",
        "caution": "to check before heating",
        "stop": "not to be worked from as they are",
    }
    page.rows((f"{found[level]}", f"{said[level]} ({level})") for level in reversed(_LEVELS))


def bars(page: Page, evaluation: "Evaluation", names: list[str]) -> None:
    """One line a bar."""
    page.heading("Bars")
    rows = []
    for name, row in zip(names, records(evaluation), strict=True):
        rows.append(
            (
                name,
                row["grade_found"],
                _bare(page, _window(page, row)),
                _soak(page, row),
                row["quench"].replace(", ", "/"),
                _bare(page, _temper(page, row)),
                row["level"],
            )
        )
    degree = page.measures.degree
    page.table(
        ("piece", "grade", f"window {degree}", "soak", "quench", f"temper {degree}", "level"),
        rows,
        tight=page.width < _WIDE,
    )
    page.text("soak: heat-up and hold, counted from loading into a furnace at temperature")
    if any("#" in name for name in names):
        page.text("#: row of the file, where a piece has no mark of its own")


def _bare(page: Page, text: str) -> str:
    """A temperature without the degree that the head of its column says."""
    return text.removesuffix(f" {page.measures.degree}").replace(" to ", "–")


def _window(page: Page, row: dict[str, Any]) -> str:
    return page.measures.temperatures(row["austenitize_coolest_C"], row["austenitize_hottest_C"])


def _soak(page: Page, row: dict[str, Any]) -> str:
    return page.measures.time((row["heat_up_min"] + row["hold_min"]) * _MINUTE_S)


def _temper(page: Page, row: dict[str, Any]) -> str:
    return "no target" if isnan(row["target_used_HRC"]) else page.measures.temperature(row["temper_C"])


def table_findings(page: Page, found: "Iterable[Finding]") -> None:
    """What was found about the table as a whole."""
    said = [f"{f.rule.level_name}: {f.raw + ': ' if f.raw else ''}{f.rule.reason}" for f in found]
    if said:
        page.heading("The table as a whole")
        for sentence in said:
            page.text(visible(sentence))


def doubts(page: Page, evaluation: "Evaluation", names: list[str]) -> None:
    """What was read with doubt: caution and stop by bar, notes by rule."""
    findings = list(evaluation.rack.findings)
    grave = [f for f in findings if f.row >= 0 and f.rule.level_name != "note"]
    if grave:
        page.heading("Read with doubt: look at these rows first")
        for row in sorted({finding.row for finding in grave}):
            mine = sorted((f for f in grave if f.row == row), key=lambda f: -f.rule.level)
            for rule in dict.fromkeys(finding.rule for finding in mine):
                cells = _cells([f for f in mine if f.rule is rule])
                page.text(visible(f"{names[row]}, {rule.level_name}: {cells}{rule.reason}"))
    minor = [f for f in findings if f.row >= 0 and f.rule.level_name == "note"]
    if minor:
        page.heading("Read as meant (notes)")
        for rule in dict.fromkeys(finding.rule for finding in minor):
            rows = dict.fromkeys(names[f.row] for f in minor if f.rule is rule)
            page.text(f"{', '.join(rows)}: {rule.reason}")


def _cells(findings: "list[Finding]") -> str:
    return "".join(
        f'{f.column or "row"} "{f.raw}": ' if f.raw else f"{f.column}: " if f.column else "" for f in findings
    )


def flags_of(evaluation: "Evaluation", names: list[str]) -> dict[str, list[str]]:
    """The bars that carry each flag of the plans."""
    found: dict[str, list[str]] = {}
    for name, ids in zip(names, evaluation.results["flags"], strict=True):
        for flag in filter(None, str(ids).split("; ")):
            found.setdefault(flag, []).append(name)
    return found


def plan_flags(page: Page, evaluation: "Evaluation", names: list[str]) -> None:
    """What the plans say about themselves, and of which bars."""
    found = flags_of(evaluation, names)
    if not found:
        return
    page.heading("What the plans say")
    for flag in sorted(found, key=lambda flag: -words.LEVELS.index(document.flag_level(flag))):
        page.text(f"{document.flag_level(flag)}: {document.flag_sentence(flag)}")
        page.text(_bars_in_words(found[flag], names), 6)


def _bars_in_words(who: list[str], names: list[str]) -> str:
    """The shorter of two ways to say which bars: these, or all but those."""
    others = [name for name in names if name not in set(who)]
    if not others:
        return "every bar"
    return f"all but {', '.join(others)}" if len(others) < len(who) else ", ".join(who)


def loads(page: Page, evaluation: "Evaluation", names: list[str]) -> None:
    """Which bars can go into the furnace, and into the oven, together."""
    for title, found in (
        ("Hardening loads: these bars can share the furnace (tanks may still differ)", evaluation.harden),
        ("Tempering loads: these bars can share the oven", evaluation.temper),
    ):
        page.heading(title)
        shared = [load for load in found if len(load.rows) > 1]
        alone = [names[load.rows[0]] for load in found if len(load.rows) == 1]
        page.rows((_common(page, load), _who(load, names)) for load in shared)
        if alone:
            page.text(f"alone: {', '.join(alone)}")
        if not found:
            page.text("No bar has an answer to group by.")


def _common(page: Page, load: "Load") -> str:
    """What suits every bar of a load: temperatures, and the time from loading where it was asked."""
    heat = page.measures.temperatures(load.coolest_C, load.hottest_C)
    return heat if isnan(load.shortest_s) else f"{heat}, {page.measures.times(load.shortest_s, load.longest_s)}"


def _who(load: "Load", names: list[str]) -> str:
    return f"{len(load.rows)} bars: {', '.join(names[row] for row in load.rows)}"


def certificates(page: Page, evaluation: "Evaluation") -> None:
    """What became of each certificate file."""
    if not evaluation.reports:
        return
    page.heading("Certificates")
    for report in evaluation.reports:
        heats = f"heats {', '.join(report.heats)}" if report.heats else "no heat to join"
        used = f"{report.used} of {report.rows} rows are analyses"
        page.text(visible(f"{report.file}: {used}; {heats} ({report.level})"))
        # rows of limits carry a stop of their own, which does not count against the file
        grave = [f for f in report.findings if f.rule.level_name != "note" and f.rule.level_name == report.level]
        for rule in dict.fromkeys(finding.rule for finding in grave):
            where = ", ".join(dict.fromkeys(f.raw for f in grave if f.rule is rule and f.raw and f.raw != report.file))
            page.text(visible(f"{rule.level_name}: {where + ': ' if where else ''}{rule.reason}"), 6)


def cards(page: Page, evaluation: "Evaluation", names: list[str], temper_time_s: float) -> None:
    """A short plan a bar, in the order of the work."""
    page.heading("Plans")
    for i, (name, row) in enumerate(zip(names, records(evaluation), strict=True)):
        page.blank()
        grade = row["grade_found"] if row["grade_found"] != "none" else words.family(row["family"])
        page.title(f"{name}: {grade} ({row['level']})")
        page.rows(
            [
                ("window", f"{_window(page, row)}, set {page.measures.temperature(row['austenitize_C'])}{_from(row)}"),
                (
                    "soak",
                    f"heat up {_minutes(page, row, 'heat_up_min')}, then hold {_hold(page, row)}",
                ),
                ("quench", f"{row['quench']}; as quenched {_hardness(row['as_quenched_HRC'])} if it hardens through"),
                ("temper", _card_temper(page, row, temper_time_s)),
            ]
        )
        flags = [flag for flag in str(row["flags"]).split("; ") if flag and document.flag_level(flag) != "note"]
        said = [f"{document.flag_level(flag)}: {document.flag_sentence(flag)}" for flag in flags]
        page.bullets([*map(visible, merged(evaluation.rack.findings.of_row(i))), *said])


def merged(findings: "Iterable[Finding]") -> list[str]:
    """One sentence a rule, gravest first: a rule that struck several cells names their columns, and what stands in them
    where it must be looked at."""
    by_rule: dict[Rule, list[Finding]] = {}
    for finding in findings:
        by_rule.setdefault(finding.rule, []).append(finding)
    said = []
    for rule, struck in by_rule.items():
        if len(struck) == 1:
            said.append(struck[0].message)
            continue
        quiet = rule.level_name == "note"
        cells = [f.column if quiet or not f.raw else f'{f.column} "{f.raw}"' for f in struck]
        said.append(f"{rule.level_name}: {', '.join(cells)}: {rule.reason}")
    return said


def _from(row: dict[str, Any]) -> str:
    return {"published": " (the grade's published range)", "computed": " (computed)"}.get(row["austenitize_from"], "")


def _minutes(page: Page, row: dict[str, Any], name: str) -> str:
    return page.measures.time(row[name] * _MINUTE_S)


def _hold(page: Page, row: dict[str, Any]) -> str:
    if isnan(row["hold_min"]):
        return NO_ANSWER
    band = page.measures.times(row["hold_min_low"] * _MINUTE_S, row["hold_min_high"] * _MINUTE_S)
    return f"{_minutes(page, row, 'hold_min')} ({band})"


def _hardness(value: float) -> str:
    return NO_ANSWER if isnan(value) else f"{value:.1f} HRC"


def _card_temper(page: Page, row: dict[str, Any], time_s: float) -> str:
    target = row["target_used_HRC"]
    if isnan(target):
        return "no hardness was asked for"
    held = f"{words.times(int(row['tempers']))} {page.measures.time(time_s)} for {target:.3g} HRC"
    if isnan(row["temper_C"]):
        return f"{NO_ANSWER} for {target:.3g} HRC"
    band = page.measures.temperatures(row["temper_C_low"], row["temper_C_high"])
    return f"{page.measures.temperature(row['temper_C'])} ({band}), {held}, by the {row['temper_from']}"
