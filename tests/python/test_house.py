"""The rooms of the house: a room includes only rooms of lower rows; no arrow goes up or sideways."""

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
INCLUDES = ROOT / "cpp" / "include" / "decalesce"

# Rooms by row, lowest first. Rooms of one row do not include one another.
ROWS = [
    {"tables"},
    {"ground"},
    {"solvers"},
    {"published", "thermal", "scales"},
    {"equilibrium"},
    {"laws"},
    {"shop"},
    {"heating", "austenite", "surface", "laminate", "quench", "temper"},
    {"plan"},
]
# Laws are one room with several files, and so is every room that is a folder.
ROW_OF = {room: row for row, rooms in enumerate(ROWS) for room in rooms}

# The same house in Python: modules of the face and the row they stand in.
PYTHON_ROOMS = {
    "conduction": 2,
    "published": 3,
    "scales": 3,
    "thermal": 3,
    "critical": 5,
    "martensite": 5,
    "furnace": 6,
    "arrest": 7,
    "heating": 7,
    "austenite": 7,
    "quench": 7,
    "temper": 7,
    "plan": 8,
    "inventory": 9,
    "plots": 10,
    "cli": 10,
}


def room_of(path: Path) -> str:
    """The room a header belongs to: its folder, or its own name at the top."""
    relative = path.relative_to(INCLUDES)
    return relative.parts[0] if len(relative.parts) > 1 else relative.stem


HEADERS = [p for p in sorted(INCLUDES.rglob("*.hpp")) if p.name != "decalesce.hpp"]


def included(header: Path) -> list[Path]:
    lines = re.findall(r'^#include "([^"]+)"', header.read_text(encoding="utf-8"), flags=re.M)
    found = []
    for line in lines:
        for base in (header.parent, INCLUDES.parent):
            target = (base / line).resolve()
            if target.exists():
                found.append(target)
                break
        else:
            raise AssertionError(f"{header.name} includes {line}, which is not in the house")
    return found


@pytest.mark.parametrize("header", HEADERS, ids=lambda p: str(p.relative_to(INCLUDES)))
def test_headers_include_only_lower_rooms(header: Path) -> None:
    room = room_of(header)
    assert room in ROW_OF, f"{header} stands in no room of the house"
    for target in included(header):
        other = room_of(target)
        assert other == room or ROW_OF[other] < ROW_OF[room], f"{header.name} ({room}) includes {target.name} ({other})"


def test_headers_were_found() -> None:
    assert len(HEADERS) > 20
    assert any(included(h) for h in HEADERS)


def imported_rooms(module: Path) -> set[str]:
    """Rooms a module of the face imports, at its top or inside its functions."""
    rooms: set[str] = set()
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module == "decalesce":
            rooms |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("decalesce."):
            rooms.add(node.module.split(".")[1])
    return rooms & set(PYTHON_ROOMS)


PACKAGE = ROOT / "python" / "decalesce"
MODULES = [
    p for p in sorted(PACKAGE.rglob("*.py")) if p.relative_to(PACKAGE).parts[0].removesuffix(".py") in PYTHON_ROOMS
]


@pytest.mark.parametrize("module", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_modules_import_only_lower_rooms(module: Path) -> None:
    room = module.relative_to(PACKAGE).parts[0].removesuffix(".py")
    for other in imported_rooms(module):
        assert other == room or PYTHON_ROOMS[other] < PYTHON_ROOMS[room], f"{module.name} ({room}) imports {other}"


def test_modules_were_found() -> None:
    assert {p.relative_to(PACKAGE).parts[0].removesuffix(".py") for p in MODULES} >= {"critical", "published"}


def test_the_core_has_no_io_and_no_python() -> None:
    """The C++ core reads no file, prints nothing and knows no Python."""
    forbidden = re.compile(r"#include <(iostream|fstream|filesystem|cstdio|pybind11/[^>]*|Python\.h)>")
    for source in [*INCLUDES.rglob("*.hpp"), *(ROOT / "cpp" / "src").rglob("*")]:
        if source.suffix in {".hpp", ".cpp"}:
            assert not forbidden.search(source.read_text(encoding="utf-8")), source
