"""Whatever stands for a composition, as a composition."""

from typing import Any

from decalesce._core import Composition


def composition_of(w: Any) -> Composition:
    """A Composition as it is; of a Grade, a Bar or a grade's name its ``composition``.

    Raises LookupError with near matches for a name that is no grade, TypeError for anything else.
    """
    if type(w) is Composition:
        return w
    if isinstance(w, str):
        from decalesce import grades

        return grades.find(w).composition
    inner = getattr(w, "composition", None)
    if isinstance(inner, Composition):
        return inner
    raise TypeError(
        f"w = {w!r}; expected a Composition, a Grade, a grade's name such as '1095' or a Bar, "
        "e.g. decalesce.Composition(C=0.95, Mn=0.40)"
    )
