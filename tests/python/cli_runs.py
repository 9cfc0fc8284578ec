"""Runs the command line for the tests: in the process, or as a process of its own."""

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from typing import Any

from typer.testing import CliRunner

from decalesce.cli.app import app

DRIVER = "from decalesce.cli import main; main()"


@dataclass(frozen=True)
class Run:
    """What came out."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:
        return json.loads(self.out)


def run(*words: str, columns: int = 80) -> Run:
    """One command; anything but a clean exit is an error of the program and is raised."""
    result = CliRunner().invoke(app, list(words), env={"COLUMNS": str(columns), "TERM": "dumb"}, prog_name="decalesce")
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Run(result.exit_code, result.stdout, result.stderr)


def document(*words: str) -> Any:
    """The JSON document of a command that must succeed."""
    result = run(*words, "--json")
    assert result.code == 0, result.err
    return result.document


def process(*words: str) -> Run:
    """The command as a user runs it."""
    environment = os.environ | {"COLUMNS": "80", "PYTHONWARNINGS": "error"}
    done = subprocess.run(
        [sys.executable, "-c", DRIVER, *words],
        capture_output=True,
        text=True,
        check=False,
        env=environment,
        timeout=120,
    )
    return Run(done.returncode, done.stdout, done.stderr)
