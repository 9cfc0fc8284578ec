"""A bar with neither certificate nor grade: what can be said, what cannot, and which cheap test would tell."""

_LINES = (
    "Without a grade and without an analysis no temperature can be given for this bar.",
    "A spark test beside known bars tells low from high carbon, and shows tungsten and much chromium.",
    "A file and a magnet tell hardened from annealed stock, and austenitic stainless from the rest, no more.",
    "Heat a sliver just past the loss of magnetism and quench it in water: if a file skates on it, it hardens; if it "
    "cracks or air alone hardens it, it is an alloy steel and needs its name before anything else is done.",
    "An analysis by spectrometer, with carbon, costs less than a batch of spoiled blades and answers the rest.",
)


def without_grade_or_certificate() -> tuple[str, ...]:
    """Plain sentences for a bar nobody knows anything about; common practice, no source."""
    return _LINES
