"""``decalesce sources``: every formula and publication, and whether it was seen in print or is remembered."""

from math import isinf, isnan
from typing import TYPE_CHECKING, Annotated, Any

import typer

from decalesce.cli import options

if TYPE_CHECKING:
    from decalesce.cli.bibliography import Publication
    from decalesce.cli.page import Page
    from decalesce.published import Formula

_Key = Annotated[
    str | None, typer.Argument(metavar="KEY", help="One publication or formula: Andrews1965, ms_andrews_1965_linear.")
]


@options.bundled
def command(key: _Key = None, *, output: options.Printing) -> None:
    """Formulas with citation, range, standard error and how they were seen; the bibliography with its errata.

    \b
    Example:
      decalesce sources Andrews1965
    """
    import decalesce as dc
    from decalesce.cli import bibliography, document

    formulas = list(dc.published.formulas())
    publications = list(bibliography.publications().values())
    if key is not None:
        asked = key.strip().casefold()
        formulas = [f for f in formulas if asked in (f.id.casefold(), f.citation.casefold())]
        wanted = {asked, *(formula.citation.casefold() for formula in formulas)}
        publications = [publication for publication in publications if publication.key.casefold() in wanted]
        if not publications:
            raise typer.BadParameter(f"KEY = {key!r}: no such formula or publication{_near(key)}")
    content = document.document(
        "sources",
        {
            "formulas": [_data(formula) for formula in formulas],
            "bibliography": publications,
            "remembered": sum(formula.status == "memory" for formula in formulas),
            "range_remembered": _count_remembered_ranges(formulas),
        },
        dc.plan.cautions(question="heat"),
        cite=[publication.key for publication in publications],
    )

    def show(page: "Page") -> None:
        if formulas:
            _print_formulas(page, formulas)
        _print_publications(page, publications)

    output.give(content, show)


def _count_remembered_ranges(formulas: "list[Formula]") -> int:
    """Formulas seen in print of which only the range is remembered."""
    return sum(formula.range_from_memory and formula.status != "memory" for formula in formulas)


def _near(key: str) -> str:
    from rapidfuzz import process

    import decalesce as dc
    from decalesce.cli import bibliography

    names = [*bibliography.publications(), *(formula.id for formula in dc.published.formulas())]
    found = [name for name, _, _ in process.extract(key, names, limit=3, score_cutoff=60)]
    return f"; near: {', '.join(found)}" if found else "; decalesce sources lists them"


def _ends(formula: "Formula") -> dict[str, dict[str, float | None]]:
    return {
        element: {
            "minimum": None if isnan(low) or isinf(low) else low,
            "maximum": None if isnan(high) or isinf(high) else high,
        }
        for element, (low, high) in formula.ranges.items()
    }


def _data(formula: "Formula") -> dict[str, Any]:
    return {
        "id": formula.id,
        "quantity": formula.quantity,
        "citation": formula.citation,
        "lineage": formula.lineage,
        "unit": formula.unit,
        "status": formula.status,
        "needs": formula.needs,
        "standard_error_K": formula.standard_error_K,
        "range_known": formula.range_known,
        "range_from_memory": formula.range_from_memory,
        "ranges_wt": _ends(formula),
        "note": formula.note,
    }


def _range(formula: "Formula") -> str:
    if not formula.range_known:
        return "range unknown"
    said = []
    for element, ends in _ends(formula).items():
        low, high = ends["minimum"], ends["maximum"]
        if low and high is not None:
            said.append(f"{element} {low:g} to {high:g}")
        elif high is not None:
            said.append(f"{element} up to {high:g}")
        elif low:
            said.append(f"{element} from {low:g}")
    remembered = " (remembered)" if formula.range_from_memory else ""
    return (", ".join(said) or "no limit stated") + remembered


def _print_formulas(page: "Page", formulas: "list[Formula]") -> None:
    from decalesce.cli import words

    remembered = sum(formula.status == "memory" for formula in formulas)
    count = "1 formula" if len(formulas) == 1 else f"{len(formulas)} formulas"
    ranges = _count_remembered_ranges(formulas)
    page.title(f"{count}; remembered, not seen in print: {remembered}; seen, but the range remembered: {ranges}")
    for quantity in dict.fromkeys(formula.quantity for formula in formulas):
        page.heading(quantity)
        for formula in formulas:
            if formula.quantity != quantity:
                continue
            error = formula.standard_error_K
            scatter = "standard error unknown" if isnan(error) else f"standard error {page.measures.difference(error)}"
            page.text(f"{formula.id}: {words.status(formula.status)}")
            page.text(
                f"{formula.citation}; {scatter}; {_range(formula)}"
                + (f"; needs {formula.needs}" if formula.needs not in ("", "composition") else ""),
                6,
            )
            if len(formulas) < 10 and formula.note:
                page.text(formula.note, 6)


def _print_publications(page: "Page", publications: "list[Publication]") -> None:
    from decalesce.cli import words

    page.heading(f"Bibliography ({len(publications)})")
    for publication in publications:
        page.text(f"{publication.key}: {words.status(publication.status)}")
        page.text(publication.text, 6)
        if publication.note:
            page.text(publication.note, 6)
