"""``decalesce temper``: hardness after a temper, the temper for a hardness, or one temper as another."""

from typing import Annotated, Any

import typer

from decalesce.cli import arguments, options

_At = Annotated[
    float | None,
    typer.Option(
        "--at", metavar="TEMP", parser=arguments.temperature, help="Hardness after a temper at this temperature."
    ),
]
_Target = Annotated[
    Any,
    typer.Option(
        "--target", metavar="HARDNESS", parser=arguments.wanted, help="Temperature for this hardness: 60HRC or 60."
    ),
]
_For = Annotated[
    float | None,
    typer.Option(
        "--for", metavar="TIME", parser=arguments.time, help=f"Time of one temper; {options.TEMPER_TIME} if not given."
    ),
]
_Times = Annotated[int | None, typer.Option("--times", min=1, help="How often; what the trade does if not given.")]
_Convert = Annotated[
    tuple[str, str] | None,
    typer.Option("--convert", metavar="TEMP TIME", help="Convert this temper, such as 400F 2h; needs no steel."),
]
_To = Annotated[
    arguments.NewTemper | None,
    typer.Option(
        "--to", metavar="TIME|TEMP", parser=arguments.new_temper, help="The new time (1h) or temperature (420F)."
    ),
]
_Constant = Annotated[
    Any,
    typer.Option(
        "--constant",
        metavar="NUMBER|carbon",
        parser=arguments.constant,
        help="Constant of the temper parameter, the one for hours, 20 if not given; carbon: by the steel's carbon.",
    ),
]
_AsQuenched = Annotated[
    float | None,
    typer.Option(
        "--as-quenched", metavar="HARDNESS", parser=arguments.hardness, help="Hardness read after the quench: 64.5HRC."
    ),
]
_Hardened = Annotated[
    float | None,
    typer.Option(
        "--hardened",
        metavar="TEMP",
        parser=arguments.temperature,
        help="Hardened from here; the window's aim if not given.",
    ),
]
_Soaked = Annotated[
    float | None,
    typer.Option(
        "--soaked",
        metavar="TIME",
        parser=arguments.time,
        help=f"With --hardened: for this time; {options.SOAK_TIME} if not given.",
    ),
]
_Swing = Annotated[
    float | None,
    typer.Option(
        "--swing",
        metavar="DIFFERENCE",
        parser=arguments.difference,
        help="How far the oven may be off, a difference: 27F or 15K; widens the band of --at.",
    ),
]


@options.bundled
def command(
    steel: options.SteelOrNone = None,
    *,
    at: _At = None,
    target: _Target = None,
    for_: _For = None,
    times: _Times = None,
    convert: _Convert = None,
    to: _To = None,
    constant: _Constant = None,
    as_quenched: _AsQuenched = None,
    hardened: _Hardened = None,
    soaked: _Soaked = None,
    swing: _Swing = None,
    output: options.Output,
) -> None:
    """Hardness after a temper, the temper for a hardness, or one temper as another.

    \b
    Examples:
      decalesce temper 1095 --at 400F --for 2h
      decalesce temper O1 --target 60HRC
      decalesce temper --convert 400F 2h --to 1h
    """
    from decalesce.cli import steel as steels

    given = steels.read(steel) if steel else None
    chosen = [name for name, value in (("--at", at), ("--target", target), ("--convert", convert)) if value is not None]
    if len(chosen) != 1:
        what = "none of them" if not chosen else " and ".join(chosen)
        raise typer.BadParameter(
            f"{what} given; ask one thing: --at 400F (hardness), --target 60HRC (temperature) "
            "or --convert 400F 2h --to 1h"
        )
    if convert is not None:
        if swing is not None:
            raise typer.BadParameter("--swing widens the band of a hardness; use it with --at")
        from decalesce.cli import conversion

        conversion.answer(
            given, convert, output, to=to, constant=20.0 if constant is None else constant, times=times or 1
        )
        return
    if to is not None:
        raise typer.BadParameter("--to belongs to --convert 400F 2h")
    if given is None:
        raise typer.BadParameter("a hardness depends on the steel; name it, such as decalesce temper 1095 --at 400F")
    if swing is not None and at is None:
        raise typer.BadParameter("--swing widens the band of a hardness; use it with --at")
    import decalesce as dc
    from decalesce.cli import tempering

    often = dc.temper.tempers_usual(given.grade) if times is None else times
    time_s = float(dc.units.time_s(for_ or options.TEMPER_TIME))
    soaked_s = float(dc.units.time_s(soaked or options.SOAK_TIME))
    asked = tempering.Asked(at, target, time_s, often, swing or 0.0, as_quenched, hardened, soaked_s)
    tempering.answer(given, asked, output)
