"""The options that several commands share, so that they read the same everywhere."""

from enum import StrEnum
from typing import Annotated

import typer

from decalesce.cli import arguments


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
PrintUnits = Annotated[Units, typer.Option("--units", help="Print °C and mm, or °F and inch.")]
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
    float | None,
    typer.Option(
        "--target", metavar="HARDNESS", parser=arguments.hardness, help="Wanted hardness: 62HRC, 62 or 746HV."
    ),
]
