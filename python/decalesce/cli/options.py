"""The options that several commands share, so that they read the same everywhere.

Options that belong together are a bundle: a dataclass whose fields are options. A command that is `bundled` names a
bundle as one parameter, and the command line shows the options in its place.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass
from enum import StrEnum
from functools import wraps
from inspect import Parameter, signature
from typing import TYPE_CHECKING, Annotated, Any, get_type_hints

import typer

from decalesce.cli import arguments

if TYPE_CHECKING:
    from decalesce._core import Section
    from decalesce.cli.page import Page


class Units(StrEnum):
    """What temperatures and lengths are printed in."""

    metric = "metric"
    shop = "shop"


class Furnace(StrEnum):
    """The kinds of furnace that the library knows."""

    still_electric = "still_electric"
    forced_air = "forced_air"
    gas_fired = "gas_fired"
    neutral_salt = "neutral_salt"
    fluidized_bed = "fluidized_bed"


class Shape(StrEnum):
    """The shapes of a section."""

    plate = "plate"
    round = "round"
    square = "square"
    hexagon = "hexagon"
    rectangle = "rectangle"
    wedge = "wedge"
    block = "block"


_STEEL_HELP = (
    "A grade (1095, AISI 1084, 1.2510), amounts in wt % (C=0.95 Mn=0.40), or both: an amount wins over the grade."
)

Steel = Annotated[list[str], typer.Argument(metavar="STEEL", help=_STEEL_HELP)]
SteelOrNone = Annotated[list[str] | None, typer.Argument(metavar="STEEL", help=_STEEL_HELP)]
Json = Annotated[bool, typer.Option("--json", help="One JSON document instead of text; always °C, K, s, mm, wt %.")]


def _units(text: str) -> Units:
    """``metric`` or ``shop``."""
    try:
        return Units(text.strip().lower())
    except ValueError as problem:
        raise typer.BadParameter(
            f"{text!r} is no set of units; expected metric (°C and mm) or shop (°F and inch)"
        ) from problem


PrintUnits = Annotated[
    Units, typer.Option("--units", metavar="metric|shop", parser=_units, help="Print °C and mm, or °F and inch.")
]
Strict = Annotated[bool, typer.Option("--strict", help="Exit with 1 when an answer carries a caution or a stop.")]
FurnaceKind = Annotated[Furnace, typer.Option("--furnace", help="Kind of furnace.")]
Size = Annotated[
    arguments.Size | None,
    typer.Option("--size", metavar="SIZE", parser=arguments.size, help="4x30mm, 3/16inx1-1/2in, 20mm."),
]
Thickness = Annotated[
    float | None,
    typer.Option(
        "--thickness", metavar="LENGTH", parser=arguments.length, help="Thickness, diameter or spine: 4mm, 3/16in."
    ),
]
Width = Annotated[
    float | None, typer.Option("--width", metavar="LENGTH", parser=arguments.length, help="Width: 30mm, 1-1/4in.")
]
Length = Annotated[
    float | None, typer.Option("--length", metavar="LENGTH", parser=arguments.length, help="Length: 300mm, 12in.")
]
Edge = Annotated[
    float | None,
    typer.Option("--edge", metavar="LENGTH", parser=arguments.length, help="Thickness at the edge of a wedge: 0.5mm."),
]
ShapeName = Annotated[
    Shape | None, typer.Option("--shape", help="Shape of the section; plate, or rectangle where a width is given.")
]
#: Time of one temper where none is typed.
TEMPER_TIME = "2h"
#: Time at the hardening temperature where none is typed.
SOAK_TIME = "10min"
TemperTime = Annotated[
    float | None,
    typer.Option(
        "--temper-time", metavar="TIME", parser=arguments.time, help=f"Time of one temper; {TEMPER_TIME} if not given."
    ),
]
Target = Annotated[
    Any,
    typer.Option("--target", metavar="HARDNESS", parser=arguments.wanted, help="Wanted hardness: 62HRC, 62 or 746HV."),
]


@dataclass(frozen=True, slots=True)
class Printing:
    """What an answer is printed as."""

    json: Json = False
    units: PrintUnits = Units.metric

    def give(self, content: dict[str, Any], show: "Callable[[Page], None]") -> None:
        """Print the document or the page."""
        from decalesce.cli import answer

        answer.give(content, show, json=self.json, units=self.units, strict=False)


@dataclass(frozen=True, slots=True)
class Output:
    """What an answer is printed as, and how the command ends."""

    json: Json = False
    units: PrintUnits = Units.metric
    strict: Strict = False

    def give(self, content: dict[str, Any], show: "Callable[[Page], None]") -> None:
        """Print the document or the page; leave with 1 under ``--strict`` when it carries a caution or a stop."""
        from decalesce.cli import answer

        answer.give(content, show, json=self.json, units=self.units, strict=self.strict)


@dataclass(frozen=True, slots=True)
class Piece:
    """The size of the piece."""

    size: Size = None
    thickness: Thickness = None
    width: Width = None
    length: Length = None
    edge: Edge = None
    shape: ShapeName = None

    def section(self) -> "Section | None":
        """The section that was typed; None where no size was. Raises BadParameter for sizes that contradict."""
        from decalesce.cli import steel

        return steel.read_section(
            size=self.size,
            thickness=self.thickness,
            width=self.width,
            length=self.length,
            edge=self.edge,
            shape=self.shape,
        )


def bundled(command: Callable[..., None]) -> Callable[..., None]:
    """The command as the command line sees it: in place of a bundle the options it holds."""
    hints = get_type_hints(command, include_extras=True)
    bundles = {name: kind for name, kind in hints.items() if isinstance(kind, type) and is_dataclass(kind)}
    shown = []
    for parameter in signature(command).parameters.values():
        bundle = bundles.get(parameter.name)
        if bundle is None:
            shown.append(parameter.replace(annotation=hints[parameter.name]))
            continue
        options = get_type_hints(bundle, include_extras=True)
        shown += [
            Parameter(field.name, Parameter.KEYWORD_ONLY, default=field.default, annotation=options[field.name])
            for field in fields(bundle)
        ]

    @wraps(command)
    def run(**typed: Any) -> None:
        for name, bundle in bundles.items():
            typed[name] = bundle(**{field.name: typed.pop(field.name) for field in fields(bundle)})
        command(**typed)

    run.__annotations__ = {parameter.name: parameter.annotation for parameter in shown}
    run.__signature__ = signature(command).replace(parameters=shown)  # type: ignore[attr-defined]
    return run
