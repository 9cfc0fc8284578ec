"""Progress of long work: on the error stream, only on a terminal, only after a second."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Timer

_PATIENCE_S = 1.0


@contextmanager
def waiting(text: str) -> Iterator[Callable[[int], None]]:
    """Show ``text`` and the time it takes while the block runs; the block is given a function to tell rows done."""
    if not sys.stderr.isatty():
        yield lambda rows: None
        return
    from rich.console import Console
    from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

    console = Console(stderr=True, no_color=True)
    progress = Progress(
        SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn(), console=console, transient=True
    )
    task = progress.add_task(text, total=None)
    timer = Timer(_PATIENCE_S, progress.start)
    timer.start()
    try:
        yield lambda rows: progress.update(task, description=f"{text}: {rows} rows")
    finally:
        timer.cancel()
        timer.join()
        progress.stop()
