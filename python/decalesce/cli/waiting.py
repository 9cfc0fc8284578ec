"""Progress of long work: on the error stream, only on a terminal, only after a second."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Timer

_PATIENCE_S = 1.0


@contextmanager
def waiting(text: str) -> Iterator[None]:
    """Show ``text`` and the time it takes while the block runs."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console
    from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

    console = Console(stderr=True, no_color=True)
    progress = Progress(SpinnerColumn(), TextColumn(text), TimeElapsedColumn(), console=console, transient=True)
    progress.add_task(text, total=None)
    timer = Timer(_PATIENCE_S, progress.start)
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()
        progress.stop()
