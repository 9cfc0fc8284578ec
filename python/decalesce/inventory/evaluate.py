"""The main job: a rack in, the same rows in the same order out, with a plan, a band and the reasons on each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import narwhals as nw
import pandas as pd
import pyarrow as pa

from decalesce import grades, plan, scales, units
from decalesce.inventory.certificates import CertificateReport, Certificates
from decalesce.inventory.findings import Finding
from decalesce.inventory.output import writer_to
from decalesce.inventory.parse import RackParser
from decalesce.inventory.rack import ParsedRack
from decalesce.inventory.read import read_blocks, read_table
from decalesce.inventory.results import result_columns

BLOCK_ROWS = 50_000
_SECONDS_A_MINUTE = 60.0
#: What decides which bars can share a furnace.
_LOAD_COLUMNS = [
    "austenitize_coolest_C", "austenitize_hottest_C", "heat_up_min", "hold_min_low", "hold_min_high",
    "temper_stays_from_C", "temper_stays_to_C",
]  # fmt: skip


@dataclass(frozen=True, eq=False, repr=False)
class Evaluation:
    """A rack evaluated.

    ``table``: the rows as they came, in their order, with the result columns beside, in the kind of dataframe that was
    given (pandas for a file). ``rack``: what was read. ``results``: the result columns alone. ``reports``: what became
    of each certificate file. ``harden`` and ``temper``: which rows can share a furnace load.
    """

    table: Any
    results: pd.DataFrame
    rack: ParsedRack
    reports: tuple[CertificateReport, ...] = ()
    harden: tuple[plan.Load, ...] = ()
    temper: tuple[plan.Load, ...] = ()
    counts: dict[str, int] = field(default_factory=dict)

    def __len__(self) -> int:
        """The number of rows."""
        return len(self.results)

    def __eq__(self, other: object) -> bool:
        """Whether two racks hold the same cells, answered alike; it cannot be hashed, as a dataframe cannot."""
        if not isinstance(other, Evaluation):
            return NotImplemented
        mine, theirs = self.rack.table, other.rack.table
        return (
            tuple(mine.columns) == tuple(theirs.columns)
            and all(a.to_list() == b.to_list() for a, b in zip(mine.cells, theirs.cells, strict=True))
            and self.results.equals(other.results)
            and (self.harden, self.temper) == (other.harden, other.temper)
        )

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        """Rows by level, and the loads."""
        levels = ", ".join(f"{number} {level}" for level, number in self.counts.items())
        loads = f"{len(self.harden)} hardening and {len(self.temper)} tempering loads"
        return f"<Evaluation of {len(self)} rows: {levels}; {loads}; certificate files: {len(self.reports)}>"

    @property
    def table_findings(self) -> tuple[Finding, ...]:
        """What was found about the table as a whole, gravest first: headers, columns that are not used, no row."""
        return tuple(sorted(self.rack.findings.file, key=lambda finding: -finding.rule.level))


def _named_apart(results: pd.DataFrame, taken: Sequence[str]) -> pd.DataFrame:
    """Result columns never overwrite a column of the rack: a name that is taken gets a prefix."""
    held = set(taken)
    names = {}
    for name in results:
        free = str(name)
        while free in held:
            free = f"result_{free}"
        names[name] = free
    return results.rename(columns=names)


def _count(levels: pd.Series) -> dict[str, int]:
    found = levels.value_counts()
    return {level: int(found.get(level, 0)) for level in ("clean", "note", "caution", "stop")}


def evaluate(
    source: Any,
    *,
    certificates: Any = None,
    shop: plan.Shop | str | None = None,
    target: Any = None,
    temper_time: Any = "2h",
) -> Evaluation:
    """Evaluate a rack.

    Args:
        source: a path (CSV, XLSX, Parquet), bytes, a stream, or any dataframe; one row a bar.
        certificates: a file, a folder or a list of them; joined by heat number.
        shop: a Shop or a furnace kind.
        target: wanted hardness of rows that state none: HRC, or a string such as ``"62HRC"`` and ``"746HV"``.
        temper_time: time of one temper, s or ``"2h"``.

    Returns:
        An Evaluation. No row is lost, added or moved; a bad cell is flagged and stops nothing. Columns with a band end
        in ``_low`` and ``_high``; ``level`` is clean, note, caution or stop, ``flags`` holds ids, ``message``
        sentences.

    Raises:
        TableError: a file that is no table. TypeError, ValueError: wrong arguments, named.
    """
    time_s = float(units.time_s(temper_time, "temper_time"))
    wanted = _wanted(target)
    joined = None if certificates is None else Certificates.read(certificates)
    table = read_table(source)
    rack = RackParser(grades.find_many, certificates=joined).parse(table)
    results = result_columns(rack, shop=shop, target=wanted, temper_time_s=time_s)
    fit = results[_LOAD_COLUMNS].where(results["level"] != "stop")  # a bar that may not be treated shares no load
    return Evaluation(
        table=_beside(source, rack, results),
        results=results,
        rack=rack,
        reports=() if joined is None else joined.reports,
        harden=tuple(_hardening_loads(fit)),
        temper=tuple(plan.share_loads(fit["temper_stays_from_C"], fit["temper_stays_to_C"])),
        counts=_count(results["level"]),
    )


def _wanted(target: Any) -> float | None:
    return None if target is None else float(scales.wanted(target, "target"))


def _hardening_loads(fit: pd.DataFrame) -> list[plan.Load]:
    """Rows whose windows overlap and whose times from loading to quench do; the published range where it is used."""
    shortest, longest = ((fit["heat_up_min"] + fit[f"hold_min_{end}"]) * _SECONDS_A_MINUTE for end in ("low", "high"))
    return plan.share_loads(fit["austenitize_coolest_C"], fit["austenitize_hottest_C"], shortest, longest)


def _beside(source: Any, rack: ParsedRack, results: pd.DataFrame) -> Any:
    """The rack as it came with the results beside it. Names that repeat are kept where the table allows it."""
    own = rack.table.own_names
    results = _named_apart(results, (*rack.table.columns, *own))
    if isinstance(source, pd.DataFrame):
        return pd.concat([source, results.set_axis(source.index, axis=0)], axis=1)
    if isinstance(source, pa.Table):
        for name in results:
            source = source.append_column(str(name), pa.array(results[name].to_numpy()))
        return source
    try:
        frame = nw.from_native(source, eager_only=True)
    except TypeError:
        texts = {name: cell.to_list() for name, cell in zip(own, rack.table.cells, strict=True)}
        return pd.concat([pd.DataFrame(texts), results], axis=1)
    space = nw.get_native_namespace(frame)
    columns = [nw.new_series(str(name), results[name].to_numpy(), backend=space) for name in results]
    return nw.to_native(frame.with_columns(*columns))


def evaluate_blocks(
    source: Any,
    *,
    certificates: Any = None,
    shop: plan.Shop | str | None = None,
    target: Any = None,
    temper_time: Any = "2h",
    block_rows: int = BLOCK_ROWS,
) -> Iterator[pd.DataFrame]:
    """Evaluate a rack block by block, so that a million bars need the memory of one block; arguments as `evaluate`.

    Each block holds the rows as texts with the results beside. Heats are joined inside a block and with the
    certificates, and piece ids are watched across blocks.
    """
    given = {"certificates": certificates, "shop": shop, "target": target, "temper_time": temper_time}
    for rack, results in _evaluated(source, block_rows, **given):
        yield _beside(None, rack, results)


def _evaluated(
    source: Any,
    block_rows: int,
    *,
    certificates: Any = None,
    shop: plan.Shop | str | None = None,
    target: Any = None,
    temper_time: Any = "2h",
) -> Iterator[tuple[ParsedRack, pd.DataFrame]]:
    """Each block as read, and its result columns."""
    time_s = float(units.time_s(temper_time, "temper_time"))
    wanted = _wanted(target)
    joined = None if certificates is None else Certificates.read(certificates)
    parser = RackParser(grades.find_many, certificates=joined)
    for table in read_blocks(source, block_rows=block_rows):
        rack = parser.parse(table)
        yield rack, result_columns(rack, shop=shop, target=wanted, temper_time_s=time_s)


def evaluate_file(
    source: Any,
    output: str | Path,
    *,
    on_rows: Callable[[int], None] | None = None,
    on_findings: Callable[[tuple[Finding, ...]], None] | None = None,
    block_rows: int = BLOCK_ROWS,
    **given: Any,
) -> dict[str, int]:
    """Evaluate a rack into a file, streaming CSV and Parquet (XLSX is held whole); arguments as `evaluate_blocks`.

    ``on_rows`` is told after each block how many rows are done, ``on_findings`` what was found about the table as a
    whole that no earlier block has said. Returns how many rows came out at each level. Raises ValueError for an output
    that ends in none of .csv, .parquet and .xlsx or that is one of the files read, and OSError for one that cannot be
    written.
    """
    counts = dict.fromkeys(("clean", "note", "caution", "stop"), 0)
    said: dict[Finding, None] = {}

    def counted() -> Iterator[pd.DataFrame]:
        for rack, results in _evaluated(source, block_rows, **given):
            for name, number in _count(results["level"]).items():
                counts[name] += number
            new = [finding for finding in rack.findings.file if finding not in said]
            said.update(dict.fromkeys(new))
            if on_findings is not None and new:
                on_findings(tuple(new))
            if on_rows is not None:
                on_rows(sum(counts.values()))
            yield _beside(None, rack, results)

    writer_to(output, source, given.get("certificates"))(counted())
    return counts
