"""Certificates and rack lists, read as they are: dirty.

``read_table`` (or ``read_blocks``) brings a CSV file, a workbook, a Parquet file or a dataframe in as texts;
``parse`` turns the texts into a ``ParsedRack``: contents with half-widths and statuses, sections, conditions, and a
finding for every cell that was changed, doubted or set aside. ``rules()`` lists every rule with its reason.
"""

from decalesce.inventory.certificate import GradeFinder
from decalesce.inventory.findings import Finding, Findings
from decalesce.inventory.parse import RackParser, parse
from decalesce.inventory.rack import ParsedRack
from decalesce.inventory.read import read_blocks, read_table
from decalesce.inventory.rules import Rule, rule_by_id, rules
from decalesce.inventory.table import Table, TableError
from decalesce.inventory.words import CONDITIONS, ELEMENTS, SHAPES

__all__ = [
    "CONDITIONS",
    "ELEMENTS",
    "SHAPES",
    "Finding",
    "Findings",
    "GradeFinder",
    "ParsedRack",
    "RackParser",
    "Rule",
    "Table",
    "TableError",
    "parse",
    "read_blocks",
    "read_table",
    "rule_by_id",
    "rules",
]
