"""How a command ends: the document or the page goes out, then the exit code."""

from collections.abc import Callable
from typing import Any

import typer

from decalesce.cli import document
from decalesce.cli.measures import Measures
from decalesce.cli.options import Units
from decalesce.cli.page import Page

#: Exit code under ``--strict`` when an answer carries a caution or a stop.
STRICT = 1


def give(content: dict[str, Any], show: Callable[[Page], None], *, json: bool, units: Units, strict: bool) -> None:
    """Print the document or the page; leave with 1 under ``strict`` when the answer carries caution or stop."""
    if json:
        typer.echo(document.dump(content))
    else:
        show(Page(Measures(shop=units is Units.shop)))
    if strict and content["level"] != "note":
        raise typer.Exit(STRICT)
