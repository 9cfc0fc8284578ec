"""A bar: what is on the rack. Its grade, its certificate, its section and its condition, as far as each is known."""

from dataclasses import dataclass

from decalesce._core import Composition, Section
from decalesce.grade import Grade

CONDITIONS = ("unknown", "hot rolled", "ground", "annealed", "spheroidized", "normalized")

_MEMBERS = {
    "grade": (Grade, 'decalesce.grades.find("1095")'),
    "certificate": (Composition, "decalesce.Composition(C=0.95, Mn=0.40)"),
    "section": (Section, 'decalesce.Section("plate", 4.0)'),
}


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of steel.

    Attributes:
        grade: the grade it was bought as, or ``None``.
        certificate: the analysis of its heat, or ``None``.
        section: its shape and size, or ``None``.
        condition: one of `CONDITIONS`.
        piece_id: the shop's own mark.
        heat: the mill's heat number.

    Raises ValueError for an unknown condition, and when neither grade nor certificate is given; TypeError for a grade,
    certificate or section of another type, such as the name of a grade.

    >>> import decalesce as dc
    >>> bar = dc.Bar(grade=dc.grades.find("1095"), certificate=dc.Composition(C=0.97, Mn=0.41))
    >>> bar.composition.C
    0.97
    """

    grade: Grade | None = None
    certificate: Composition | None = None
    section: Section | None = None
    condition: str = "unknown"
    piece_id: str = ""
    heat: str = ""

    def __post_init__(self) -> None:
        """Refuse what cannot be evaluated."""
        for name, (kind, make) in _MEMBERS.items():
            given = getattr(self, name)
            if given is not None and not isinstance(given, kind):
                raise TypeError(f"{name} = {given!r}; expected a {kind.__name__}, such as {make}")
        if self.condition not in CONDITIONS:
            raise ValueError(f"condition = {self.condition!r}; expected one of {', '.join(CONDITIONS)}")
        if self.grade is None and self.certificate is None:
            raise ValueError(
                "a bar needs a grade or a certificate; with neither, a spark test tells carbon from alloy steel, a "
                "file and a water quench of a sliver tell whether it hardens, and an analysis tells the rest"
            )
        if self.certificate is not None and self.certificate.shape:
            raise ValueError("certificate is a batch; expected the composition of one heat")

    @property
    def composition(self) -> Composition:
        """The certificate where it states an element, the middle of the grade's limits where it does not."""
        if self.grade is None:
            assert self.certificate is not None
            return self.certificate
        middle = self.grade.composition
        if self.certificate is None:
            return middle
        amounts = middle.amounts | self.certificate.amounts
        half_width = {e: h for e, h in middle.half_width.items() if e not in self.certificate.amounts}
        status = {e: s for e, s in middle.status.items() if e not in self.certificate.amounts}
        return Composition(
            **amounts,
            half_width=half_width | self.certificate.half_width,
            status=status | self.certificate.status,
        )
