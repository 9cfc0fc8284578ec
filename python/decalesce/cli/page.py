"""The printed page: headings, aligned rows, wrapped sentences. Plain words, no lights; readable in 80 columns."""

from collections.abc import Iterable, Mapping, Sequence
from math import isnan
from textwrap import wrap
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from decalesce.cli import document, words
from decalesce.cli.measures import NO_ANSWER, Measures, amount_in_words
from decalesce.cli.steel import GivenSteel, amounts

if TYPE_CHECKING:
    from decalesce._core import Estimate
    from decalesce.plan import Caution

#: Lines longer than this are hard to follow, however wide the screen.
_WIDEST = 120
#: A wrapped cell is never squeezed below this: it goes to a line of its own.
_NARROWEST = 24
_INDENT = "  "
_GAP = "  "


def _without_empty_end(row: Sequence[str]) -> tuple[str, ...]:
    """The cells up to the last one that says something."""
    cells = list(row)
    while cells and not cells[-1]:
        cells.pop()
    return tuple(cells)


class Page:
    """Prints one answer. Colour is never used; headings are bold where the screen can."""

    def __init__(self, measures: Measures) -> None:
        """Open a page on the standard output."""
        self.measures = measures
        self.console = Console(highlight=False, markup=False, emoji=False, soft_wrap=False)
        self.console.width = min(self.console.width, _WIDEST)
        self._flags: dict[str, list[str]] = {}

    @property
    def width(self) -> int:
        """Columns of the page."""
        return self.console.width

    def _print(self, what: RenderableType) -> None:
        """Print without the blanks that aligned columns leave at the ends of lines."""
        with self.console.capture() as held:
            self.console.print(what)
        for line in held.get().splitlines():
            self.console.file.write(line.rstrip() + "\n")

    def _wrap(self, sentence: str, first: str, others: str) -> None:
        """A sentence behind ``first``, its further lines behind ``others``; long words are kept whole."""
        lines = wrap(
            sentence,
            self.width,
            initial_indent=first,
            subsequent_indent=others,
            break_long_words=False,
            break_on_hyphens=False,
        )
        for line in lines or [first]:
            self.console.file.write(line.rstrip() + "\n")

    def blank(self) -> None:
        """An empty line."""
        self.console.file.write("\n")

    def title(self, text: str) -> None:
        """The first line."""
        self._print(Text(text, style="bold"))

    def heading(self, text: str) -> None:
        """A part of the answer."""
        self.blank()
        self._print(Text(text, style="bold"))

    def text(self, sentence: str, indent: int = 2) -> None:
        """A sentence, wrapped."""
        self._wrap(self.measures.sentence(sentence), " " * indent, " " * indent)

    def rows(self, rows: Iterable[Sequence[str]]) -> None:
        """Aligned rows; the last cell of a row wraps, and takes the room of empty cells before it."""
        held = [_without_empty_end(row) for row in rows]
        widths: dict[int, int] = {}
        for row in held:
            for i, cell in enumerate(row[:-1]):
                widths[i] = max(widths.get(i, 0), len(cell))
        for row in held:
            kept = len(_without_empty_end(row[:-1]))
            lead = "".join(f"{cell:<{widths[i]}}{_GAP}" for i, cell in enumerate(row[:kept]))
            start = len(_INDENT) + len(lead)
            if row and len(row[-1]) > self.width - start and self.width - start < _NARROWEST:
                # no room beside: the last cell goes below, set in
                self._wrap("", _INDENT + lead, "")
                self._wrap(row[-1], _INDENT * 3, _INDENT * 3)
            else:
                self._wrap(row[-1] if row else "", _INDENT + lead, " " * start)

    def numbers(self, rows: Iterable[tuple[str, str, str, str]]) -> None:
        """Rows of `number`; neighbours that have no answer for one and the same reason share a row."""
        merged: list[tuple[str, str, str, str]] = []
        for row in rows:
            if merged and row[1] == NO_ANSWER and row[1:] == merged[-1][1:]:
                merged[-1] = (f"{merged[-1][0]}, {row[0]}", *row[1:])
            else:
                merged.append(row)
        self.rows(merged)

    def table(self, headers: Sequence[str], rows: Iterable[Sequence[str]], *, tight: bool = False) -> None:
        """A table with a line under its head; ``tight`` sets its columns closer."""
        from rich import box

        grid = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 0 if tight else 1, 0, 0), show_edge=False)
        for header in headers:
            grid.add_column(Text(header), overflow="fold")
        for row in rows:
            grid.add_row(*(Text(cell) for cell in row))
        self._print(Padding(grid, (0, 0, 0, 2)))

    def bullets(self, sentences: Iterable[str]) -> None:
        """Sentences, one below the other, with a hanging indent."""
        for sentence in sentences:
            self._wrap(self.measures.sentence(sentence), _INDENT + "- ", _INDENT + "  ")

    def number(
        self, label: str, estimate: "Estimate", remark: str = "", *, name: str = ""
    ) -> tuple[str, str, str, str]:
        """A row for an estimate, or why there is none; its flags are kept for `remarks`, under ``name``."""
        if isnan(estimate.value):
            return label, NO_ANSWER, "", self.measures.sentence(document.why_none(estimate))
        for flag in estimate.flags:
            self._flags.setdefault(flag, []).append(name or label)
        band = self.measures.band(estimate)
        return label, self.measures.value(estimate), f"({band})" if band else "", remark

    def steel(self, given: GivenSteel, family: str) -> None:
        """Name, family and amounts of the steel."""
        self.title(f"{given.name}: {words.family(given.family(family))}")
        groups: dict[str, list[str]] = {}
        for element, amount, half_width, status in amounts(given.bar().composition):
            said = f"{element} {amount_in_words(amount, 3)}"
            said += f" ±{amount_in_words(half_width, 2)}" if half_width else ""
            groups.setdefault(status, []).append(said)
        lead = {
            "measured": "analysis, wt %",
            "below_limit": "below the limit of the laboratory, wt %",
            "filled": "middle of the grade's limits, wt %",
        }
        for status, amounts_said in groups.items():
            self.text(f"{lead.get(status, status)}: {', '.join(amounts_said)}")
        for doubt in given.doubts:
            self.text(f"{doubt.level}: {doubt.sentence}")

    def remarks(self, heading: str = "What to know") -> None:
        """Every flag that the printed numbers carried, gravest first, with the numbers that carry it."""
        if not self._flags:
            return
        self.heading(heading)
        gravest_first = sorted(self._flags, key=lambda flag: -words.LEVELS.index(document.flag_level(flag)))
        rows = []
        for flag in gravest_first:
            about = ", ".join(dict.fromkeys(self._flags[flag]))
            sentence = self.measures.sentence(document.flag_sentence(flag))
            rows.append((document.flag_level(flag), f"{sentence} ({about})"))
        self.rows(rows)

    def sources(self, keys: Iterable[str]) -> None:
        """Keys of the bibliography."""
        found = sorted(set(keys))
        if found:
            self.heading("Sources")
            self.text(", ".join(found))
            self.text("decalesce sources KEY tells what each is and how it was seen.")

    def cautions(self, cautions: "Iterable[Caution]") -> None:
        """The cautions of the work; the last one defers to local codes and licensed practice."""
        self.heading("Cautions")
        self.bullets(caution.text for caution in cautions)


def sources_of(*groups: "Mapping[str, Estimate] | Iterable[Estimate]") -> set[str]:
    """Bibliography keys of those estimates that have an answer."""
    found: set[str] = set()
    for group in groups:
        estimates = group.values() if isinstance(group, Mapping) else group
        found |= {key for estimate in estimates if not isnan(estimate.value) for key in estimate.sources}
    return found
