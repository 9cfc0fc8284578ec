"""The command line: ``decalesce critical · soak · austenitize · temper · plan · inventory · grades · sources``.

Thin: a command reads what was typed (`arguments`, `steel`), asks one room of the library, and prints a page (`page`)
or a JSON document (`document`, keys in `keys`). Nothing heavy is imported before a command runs, so that ``--help``
answers at once.
"""


def main() -> None:
    """Run the command line."""
    from decalesce.cli.app import app

    app(prog_name="decalesce")
