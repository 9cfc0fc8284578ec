"""A steel grade: its designation, the limits its standard sets, and what is published about treating it.

Plain values only. How a name becomes a grade is the work of :mod:`decalesce.grades`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from decalesce._core import Composition


@dataclass(frozen=True, slots=True)
class Limits:
    """Lower and upper limit of one element in wt %; ``None`` where the standard sets none."""

    minimum: float | None
    maximum: float | None


@dataclass(frozen=True, slots=True)
class Fact:
    """One published figure about a grade.

    Attributes:
        quantity: what it is, for example ``"austenitize_min_C"``, ``"quench_medium"``, ``"tempered_HRC"``.
        value: a number, or text for a medium (``"water; brine; oil"``: any of these) or ``"do not"``.
        unit: unit of the number, empty for text.
        conditions: what the figure depends on, in words.
        source: citation key.
        status: ``two-pages``, ``page`` or ``memory``.
        temper_C: temper temperature of a hardness, °C, or ``None``.
        temper_h: temper time of a hardness, h; ``None`` where the source gives no time.
        austenitize_C: hardening temperature of a hardness, °C, or ``None``.
        source_note: the source in words.
    """

    quantity: str
    value: float | str
    unit: str
    conditions: str
    source: str
    status: str
    temper_C: float | None = None
    temper_h: float | None = None
    austenitize_C: float | None = None
    source_note: str = ""


class MidRange(NamedTuple):
    """Middle of an element's limits: ``value`` and ``half_width`` in wt %, and the ``status`` of the limits."""

    value: float
    half_width: float
    status: str


@dataclass(frozen=True, slots=True)
class Grade:
    """A standard grade of steel.

    Attributes:
        designation: the grade's own standard designation, for example ``"1084"`` or ``"100Cr6"``.
        system: the naming system of the designation.
        uns: UNS number, or empty.
        wnr: material number (W.Nr), or empty. For a grade that is not European it is the nearest, not an equal.
        family: ``plain_carbon``, ``low_alloy``, ``spring``, ``bearing``, ``shock``, ``cold_work_tool``, ``hot_work``,
            ``high_speed`` or ``martensitic_stainless``.
        element_limits: pairs of element and :class:`Limits`; an element the standard does not limit is absent.
        source: citation key of the standard.
        status: ``two-pages``, ``page`` or ``memory``: how the limits were seen.
        memory_fields: elements whose limits are remembered, or ``("all",)``.
        note: what a user must know about this grade.
        matched_as: the name this grade was found by; not part of equality.
        relation: ``own``, ``equal`` or ``nearest``: what that name means; not part of equality.
    """

    designation: str
    system: str
    uns: str
    wnr: str
    family: str
    element_limits: tuple[tuple[str, Limits], ...] = field(repr=False)
    source: str
    source_note: str = field(repr=False)
    status: str
    memory_fields: tuple[str, ...] = field(repr=False)
    note: str = field(repr=False)
    matched_as: str = field(default="", compare=False)
    relation: str = field(default="own", compare=False)

    @property
    def limits(self) -> Mapping[str, Limits]:
        """Limits by element symbol, wt %; read only."""
        return MappingProxyType(dict(self.element_limits))

    def mid_range(self) -> dict[str, MidRange]:
        """Return the middle of the limits by element, wt %.

        With both limits the value is their middle and the half-width half their distance. With a maximum only, both
        are half the maximum. With a minimum only, both are the minimum (0.15 min reads 0.15 ± 0.15), save for carbon:
        a carbon open above says nothing about hardening, so it is absent and the certificate must give it. Elements
        without a limit are absent. ``status`` is ``memory`` where these limits are remembered.
        """
        middle: dict[str, MidRange] = {}
        for element, limit in self.element_limits:
            status = "memory" if {"all", element} & set(self.memory_fields) else self.status
            low, high = limit.minimum, limit.maximum
            if high is not None:
                low = 0.0 if low is None else low
                middle[element] = MidRange((low + high) / 2.0, (high - low) / 2.0, status)
            elif low is not None and element != "C":
                middle[element] = MidRange(low, low, status)
        return middle

    @property
    def composition(self) -> "Composition":
        """The middle of the limits as a composition: every amount ``filled``, its half-width that of the limits."""
        from decalesce._core import Composition

        middle = self.mid_range()
        return Composition(
            **{element: amount.value for element, amount in middle.items()},
            half_width={element: amount.half_width for element, amount in middle.items()},
            status=dict.fromkeys(middle, "filled"),
        )

    def published(self, quantity: str | None = None) -> tuple[Fact, ...]:
        """Return the published facts of this grade, best seen first within a quantity.

        Args:
            quantity: one quantity, or ``None`` for all. An unknown quantity gives an empty tuple.
        """
        from decalesce.grade_facts import facts_of

        facts = facts_of(self.designation)
        return facts if quantity is None else tuple(fact for fact in facts if fact.quantity == quantity)
