"""The README's Python, run as it stands: a reader tries it first."""

import re
from pathlib import Path

import pytest

import decalesce as dc

_ROOT = Path(__file__).parents[2]
_BLOCKS = re.findall(r"^```python\n(.*?)^```", (_ROOT / "README.md").read_text(encoding="utf-8"), re.S | re.M)


@pytest.mark.parametrize("block", _BLOCKS, ids=range(len(_BLOCKS)))
def test_a_python_block_runs(block: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(_ROOT)
    names: dict[str, object] = {}
    exec(compile(block, "README.md", "exec"), names)
    assert names["dc"] is dc


def test_the_readme_shows_python() -> None:
    assert any("dc.Bar(" in block for block in _BLOCKS)
