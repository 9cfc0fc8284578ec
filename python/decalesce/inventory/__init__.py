"""Certificates and rack lists, read as they are: dirty.

``read_table`` (or ``read_blocks``) brings a CSV file, a workbook, a Parquet file or a dataframe in as texts;
``parse`` turns the texts into a ``ParsedRack``: contents with half-widths and statuses, sections, conditions, and a
finding for every cell that was changed, doubted or set aside. ``Certificates.read`` reads a folder of
certificates, which the parser joins to the rack by heat number. ``rules()`` lists every rule with its reason.
"""

from decalesce.inventory.certificates import CertificateReport, Certificates, read_certificates
from decalesce.inventory.evaluate import BLOCK_ROWS, Evaluation, evaluate, evaluate_blocks, evaluate_file
from decalesce.inventory.findings import Finding, Findings
from decalesce.inventory.grade_book import GradeFinder
from decalesce.inventory.parse import RackParser, parse
from decalesce.inventory.rack import ParsedRack
from decalesce.inventory.read import read_blocks, read_table
from decalesce.inventory.rules import Rule, rule_by_id, rules
from decalesce.inventory.table import Table, TableError
from decalesce.inventory.words import CONDITIONS, ELEMENTS, SHAPES

__all__ = [
    "BLOCK_ROWS",
    "CONDITIONS",
    "ELEMENTS",
    "SHAPES",
    "CertificateReport",
    "Certificates",
    "Evaluation",
    "Finding",
    "Findings",
    "GradeFinder",
    "ParsedRack",
    "RackParser",
    "Rule",
    "Table",
    "TableError",
    "evaluate",
    "evaluate_blocks",
    "evaluate_file",
    "parse",
    "read_blocks",
    "read_certificates",
    "read_table",
    "rule_by_id",
    "rules",
]
