"""Where the shipped tables are.

The build installs the top-level ``data`` folder into the package; in a source tree it stands beside ``python``.
"""

from importlib.resources import files
from pathlib import Path


def path(name: str) -> Path:
    """Return the path of a shipped data file.

    Args:
        name: path below the data folder, with forward slashes, for example ``"tables/trade_rules.csv"``.

    Raises:
        FileNotFoundError: neither the installed package nor the source tree holds the file.
    """
    package = __package__ or "decalesce"
    candidates = (
        Path(str(files(package).joinpath("data", *name.split("/")))),
        Path(__file__).resolve().parents[2].joinpath("data", *name.split("/")),
    )
    for candidate in candidates:
        if candidate.is_file():
            return candidate
    raise FileNotFoundError(f"data file {name!r} is neither in the installed package nor in the source tree")
