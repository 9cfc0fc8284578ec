"""Every notebook runs from top to bottom in a working copy that holds nothing but the notebooks and the data."""

import shutil
import sys
import time
import warnings
from pathlib import Path

import nbformat
import pytest

with warnings.catch_warnings():
    # the Jupyter client announces changes of its own on import; they are not ours to answer
    warnings.simplefilter("ignore", DeprecationWarning)
    from jupyter_client.kernelspec import KernelSpec
    from jupyter_client.manager import AsyncKernelManager
    from nbclient import NotebookClient

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
LEAST_NOTEBOOKS = 6
LONGEST_S = 30.0


class ThisPython(AsyncKernelManager):
    """A kernel of the Python that runs the tests, so that none need be installed for the user."""

    @property
    def kernel_spec(self) -> KernelSpec:
        return KernelSpec(
            argv=[sys.executable, "-m", "ipykernel_launcher", "-f", "{connection_file}"], language="python"
        )


@pytest.fixture(scope="module")
def ran():
    """Names of the notebooks that ran to their end; the last test of the module counts them."""
    return []


@pytest.fixture
def workplace(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "notebooks", tmp_path / "notebooks", ignore=shutil.ignore_patterns(".*"))
    shutil.copytree(ROOT / "data", tmp_path / "data", ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path / "notebooks"


def pictures(notebook: nbformat.NotebookNode) -> int:
    outputs = [output for cell in notebook.cells if cell.cell_type == "code" for output in cell.outputs]
    return sum("image/png" in output.get("data", {}) for output in outputs)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook_runs(path: Path, workplace: Path, ran: list[str]) -> None:
    notebook = nbformat.read(workplace / path.name, as_version=4)
    client = NotebookClient(
        notebook,
        timeout=120,
        kernel_manager_class=ThisPython,
        resources={"metadata": {"path": str(workplace)}},
    )
    start = time.perf_counter()
    client.execute()
    took = time.perf_counter() - start
    assert pictures(notebook) >= 1, f"{path.name} drew nothing"
    assert took < LONGEST_S, f"{path.name} took {took:.0f} s"
    ran.append(path.stem)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook_is_kept_without_outputs(path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            assert cell.outputs == []
            assert cell.execution_count is None


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook_ends_with_the_cautions(path: Path) -> None:
    cells = nbformat.read(path, as_version=4).cells
    assert "## Cautions" in cells[-2].source
    assert "dc.plan.cautions()" in cells[-1].source


def test_all_ran(ran: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with capsys.disabled():
        print(f"\n{len(ran)} notebooks ran")
    assert len(ran) >= LEAST_NOTEBOOKS, f"expected at least {LEAST_NOTEBOOKS} notebooks, ran {ran}"
    assert ran == [path.stem for path in NOTEBOOKS]
