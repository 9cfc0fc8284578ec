"""Critical temperatures: where austenite, martensite and bainite start and end.

Published formulas that cover the steel are joined with one vote a lineage; the band is a 90 % prediction band from
formula scatter, model spread and composition. Families for which no published formula is safe (5 and 12 %Cr tool
steels, martensitic stainless, high speed) answer NaN with ``no_formula_safe`` instead of a number.
"""

from typing import Any

from decalesce import _core
from decalesce._composition import composition_of
from decalesce._core import CriticalTemperatures, CriticalTemperaturesBatch

family_names: tuple[str, ...] = _core.family_names


def temperatures(w: Any, *, parts: bool = False) -> CriticalTemperatures | CriticalTemperaturesBatch:
    """Ac1, Ac3, Acm, Ms, Mf and Bs of a composition, grade (or its name) or bar: shape in, shape out.

    Each of ``.ac1 .ac3 .acm .ms .mf .bs`` is an Estimate in degC, a float for one steel, arrays for a batch;
    ``.family`` is decided from the composition alone. Ac3 exists for hypoeutectoid steel only and Acm for
    hypereutectoid only. Ms, Mf and Bs hold for all carbon in solution. An unusable amount, or carbon not stated, gives
    NaN and a flag. With ``parts`` a batch also carries the parts of its half-widths; one steel always does.

    Validity: data/tables/critical_coverage.csv, 0.02 to 1.5 %C and at most about 8 % alloy; outside it NaN with
    ``outside_range``. Accuracy on seen measurements left out of the fit (data/fit/critical_scores.md): mean absolute
    error Ac1 4 degC (6 rows), Ac3 9 (2 rows), Ms 18 (2 rows), Bs 14 (85 rows). Sources: the ``sources`` of each
    estimate. The answer is a value: it never changes, is equal to one that says the same (NaN included), and pickles.
    Raises TypeError for something that is no composition, LookupError for a name that is no grade.

    >>> import decalesce as dc
    >>> dc.critical.temperatures("1095").family
    'plain_hyper'
    """
    composition = composition_of(w)
    if composition.shape:
        return _core.critical_batch(composition, parts)
    return _core.critical_temperatures(composition)
