"""Write python/decalesce/_core.pyi from the installed module, or check that it is current (--check)."""

import re
import subprocess
import sys
import tempfile
from pathlib import Path

COMMITTED = Path(__file__).resolve().parents[1] / "python" / "decalesce" / "_core.pyi"


def generated() -> str:
    """The stub text of the module that is installed; bare containers are spelled out, as strict type checks want."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "pybind11_stubgen", "decalesce._core", "--output-dir", folder, "--exit-code"]
        subprocess.run(command, check=True, capture_output=True, text=True)
        stub = Path(folder) / "decalesce" / "_core.pyi"
        text = stub.read_text(encoding="utf-8")
    text = re.sub(r"\bdict\b(?![\[(])", "dict[typing.Any, typing.Any]", text)
    text = re.sub(r"\blist\b(?![\[(])", "list[typing.Any]", text)
    text = re.sub(r"\btuple\b(?![\[(])", "tuple[typing.Any, ...]", text)
    text = text.replace("**kwargs)", "**kwargs: typing.Any)")
    formatted = subprocess.run(
        [sys.executable, "-m", "ruff", "format", "--stdin-filename", "_core.pyi", "-"],
        input=text,
        check=True,
        capture_output=True,
        text=True,
    )
    return formatted.stdout


def main() -> int:
    """Write or compare; exit code 1 when --check finds a stale stub."""
    text = generated()
    if "--check" not in sys.argv:
        COMMITTED.write_text(text, encoding="utf-8")
        return 0
    if COMMITTED.read_text(encoding="utf-8") == text:
        return 0
    print("python/decalesce/_core.pyi is stale: run python .ci/stubs.py")
    return 1


if __name__ == "__main__":
    sys.exit(main())
