"""Whatever stands for a composition, as a composition."""

from typing import Any

from decalesce._core import Composition


def composition_of(w: Any) -> Composition:
    """A Composition as it is; of a Grade or a Bar its ``composition``. Raises TypeError for anything else."""
    if type(w) is Composition:
        return w
    inner = getattr(w, "composition", None)
    if isinstance(inner, Composition):
        return inner
    raise TypeError(f"w = {w!r}; expected a Composition, a Grade or a Bar, e.g. decalesce.Composition(C=0.95, Mn=0.40)")
