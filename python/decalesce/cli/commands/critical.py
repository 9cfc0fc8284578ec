"""``decalesce critical``: where austenite, martensite and bainite begin."""

from math import isnan
from typing import TYPE_CHECKING

from decalesce.cli import options

if TYPE_CHECKING:
    from decalesce.cli.page import Page


@options.bundled
def command(
    steel: options.Steel,
    *,
    output: options.Output,
) -> None:
    """Critical temperatures of a steel, each with its band.

    \b
    Example:
      decalesce critical 1095 C=0.97 Mn=0.42
    """
    import decalesce as dc
    from decalesce.cli import document, words
    from decalesce.cli import steel as steels
    from decalesce.cli.page import sources_of

    given = steels.read(steel)
    found = dc.critical.temperatures(given.bar())
    assert isinstance(found.family, str)
    lines = {name: getattr(found, name) for name in words.CRITICAL}
    content = document.document(
        "critical",
        {"steel": given.as_data(found.family), "critical": lines},
        dc.plan.cautions(question="heat"),
        levels=[doubt.level for doubt in given.doubts],
    )

    # a quantity that no formula covers is shown as unanswered; the level is that of the answers, if there are any
    answered = [line.level for line in lines.values() if not isnan(line.value)]
    if answered:
        content["level"] = words.gravest([*answered, *(doubt.level for doubt in given.doubts)])

    def show(page: "Page") -> None:
        page.steel(given, found.family)
        page.heading("Critical temperatures")
        page.numbers(page.number(label, lines[name], meaning) for name, (label, meaning) in words.CRITICAL.items())
        if any(not isnan(line.value) for line in lines.values()):
            page.text("In brackets: the band that should hold nine of ten measurements.")
        page.remarks()
        page.sources(sources_of(lines))

    output.give(content, show)
