"""The commands, and what happens when what was typed cannot be used: a sentence and exit code 2, never a traceback."""

from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from decalesce.cli import keys
from decalesce.cli.commands import austenitize, critical, grades, inventory, plan, soak, sources, temper


class Commands(TyperGroup):
    """Turns the library's complaints about its input into a refusal: exit code 2 and the sentence."""

    def invoke(self, ctx: Any) -> Any:
        """Run a command."""
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            raise
        except (ValueError, OSError) as problem:
            raise typer.BadParameter(str(problem)) from problem
        except LookupError as problem:
            from decalesce.grades import GradeLookupError

            if not isinstance(problem, GradeLookupError):
                raise
            raise typer.BadParameter(str(problem)) from problem


app = typer.Typer(
    cls=Commands,
    rich_markup_mode=None,
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help=(
        "Heat-treat metallurgy for the shop: from a grade or an analysis to a plan, every number with its band and "
        "its source.\n\n"
        "Temperatures, lengths and times are typed with their unit: 1475F, 800C, 3/16in, 4.8mm, 2h. A steel is a "
        "grade (1095), amounts in wt % (C=0.95 Mn=0.40), or both.\n\n"
        "Exit codes: 0 done; 1 an answer carries a caution or a stop, under --strict; 2 what was typed cannot be used."
    ),
)


def _say_version(asked: bool) -> None:
    if asked:
        import decalesce

        typer.echo(f"decalesce {decalesce.__version__}")
        raise typer.Exit


@app.callback()
def _whole(
    version: Annotated[
        bool, typer.Option("--version", callback=_say_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    pass


for _command in (critical, soak, austenitize, temper, plan, inventory, grades, sources):
    _name = _command.__name__.rsplit(".", 1)[1]
    app.command(_name, epilog=keys.epilog(_name))(_command.command)
