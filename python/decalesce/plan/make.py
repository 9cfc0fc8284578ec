"""The plan of one bar."""

from dataclasses import dataclass
from math import isnan, nan
from typing import Any

from decalesce import _core, grades, order_of_work, scales, temper, units
from decalesce import quench as quench_room
from decalesce._core import AsQuenched, Composition, Estimate, Section
from decalesce._values import Comparable
from decalesce.bar import Bar
from decalesce.grade import Grade
from decalesce.plan.cautions import Caution, cautions, works_of_plan
from decalesce.plan.hardening_facts import (
    PublishedWindow,
    air_hardening,
    published_as_quenched,
    published_window,
    window_ends,
)
from decalesce.plan.shop import Shop, shop_of
from decalesce.plan.standing import NOT_THIS_GRADE, standing
from decalesce.temper.fallback import fallback
from decalesce.temper.published import outside_usual


@dataclass(frozen=True, slots=True, eq=False)
class TemperLine(Comparable):
    """The temper of a plan: ``used`` says what gave it.

    ``"model"``, the grade's ``"table"`` or, where neither knows the steel, its ``"published range"``. ``notes`` say
    what a reader of the published figures must know.
    """

    temperature_C: Estimate
    used: str
    stays_from_C: float
    stays_to_C: float
    hardest_HRC: float
    softest_HRC: float
    published_C: tuple[Estimate, ...]
    time_s: float
    tempers: int
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Narrowing(Comparable):
    """One amount that may be off by ``half_width_wt``, and the half-widths it causes in the plan's numbers."""

    element: str
    half_width_wt: float
    ac1_K: float
    aim_K: float
    hardness_HRC: float
    temper_K: float


@dataclass(frozen=True, slots=True, eq=False)
class Plan(Comparable):
    """What to do with one bar, in the order of the work, with the reasons.

    Temperatures degC, times s, every number an Estimate with its band. ``published_window`` stands beside the computed
    one; where no rule from composition is safe, or the computed aim lies far outside it though the analysis is inside
    the grade, it is the one used (``window_used`` is ``"published"``; ``reasons`` name the computed one). Where the
    analysis is another steel than the grade (flag ``not_this_grade``) nothing published for the grade is used:
    ``published_window`` is None and the plan is that of the composition alone. ``quench`` is the grade's published
    medium; whether the section hardens through is not evaluated here. ``narrowing`` names the
    amounts that blur the plan most.
    """

    bar: Bar
    composition: Composition
    family: str
    detail: str
    critical: dict[str, Estimate]
    coolest_C: Estimate
    aim_C: Estimate
    hottest_C: Estimate
    window_used: str
    published_window: PublishedWindow | None
    heat_up_s: Estimate
    equalize_s: Estimate
    hold_s: Estimate
    hold_rule: str
    preheat_C: tuple[float, float]
    carbon_in_solution: Estimate
    quench: quench_room.QuenchLine
    quenched: AsQuenched
    as_quenched_HRC: Estimate
    retained_austenite: Estimate
    target_HRC: float
    temper: TemperLine | None
    steps: tuple[order_of_work.Step, ...]
    reasons: tuple[str, ...]
    narrowing: tuple[Narrowing, ...]
    cautions: tuple[Caution, ...]

    @property
    def estimates(self) -> dict[str, Estimate]:
        """Every number of the plan by name."""
        lines = {
            "coolest_C": self.coolest_C,
            "aim_C": self.aim_C,
            "hottest_C": self.hottest_C,
            "heat_up_s": self.heat_up_s,
            "equalize_s": self.equalize_s,
            "hold_s": self.hold_s,
            "carbon_in_solution": self.carbon_in_solution,
            "as_quenched_HRC": self.as_quenched_HRC,
            "retained_austenite": self.retained_austenite,
        }
        if self.temper is not None:
            lines["temper_C"] = self.temper.temperature_C
        return lines | self.critical

    @property
    def flags(self) -> dict[str, str]:
        """Sentence of every flag of the lines a smith works by (window, soak, temper), by id; and a middle left soft.

        A critical temperature or a retained austenite without an answer says so in its own estimate.
        """
        return _core.flag_sentences(self._bits())

    @property
    def level(self) -> str:
        """The gravest level among those flags."""
        return _core.flag_level(self._bits())

    def _bits(self) -> int:
        worked_by = [self.aim_C, self.heat_up_s, self.hold_s]
        if self.temper is not None:
            worked_by.append(self.temper.temperature_C)
        bits = 0
        for estimate in worked_by:
            for flag in estimate.flags:
                bits |= _core.flag_bit(flag)
        if "middle_stays_soft" in self.as_quenched_HRC.flags:
            bits |= _core.flag_bit("middle_stays_soft")
        return bits

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of the bibliography, of everything the plan says."""
        keys = {key for estimate in self.estimates.values() for key in estimate.sources}
        keys |= {key for step in self.steps for key in step.sources}
        return tuple(sorted(keys | {fact.source for fact in self.quench.facts}))


def bar_of(given: Any) -> Bar:
    """A bar as it is; a grade, a grade's name or a composition as a bar. Raises TypeError for anything else."""
    if isinstance(given, Bar):
        return given
    if isinstance(given, Grade):
        return Bar(grade=given)
    if isinstance(given, Composition):
        return Bar(certificate=given)
    if isinstance(given, str):
        return Bar(grade=grades.find(given))
    raise TypeError(f"bar = {given!r}; expected a Bar, a Grade, a grade's name or a Composition")


def _temper_line(
    q: AsQuenched,
    grade: Grade | None,
    *,
    target: scales.Hardness,
    time_s: float,
    tempers: int,
    tables: str,
    aim: float,
    screened: Estimate,
) -> TemperLine:
    setting = temper.temperature_for(
        q, target, time_s, tempers=tempers, grade=grade, tables=tables, austenitize_C=None if isnan(aim) else aim
    )
    temperature, used, notes = setting.temperature_C, setting.used, setting.notes
    refused = screened if isnan(screened.value) else temperature
    if isnan(temperature.value):
        temperature = refused
        if grade is not None and tables != "ignore" and "no_model" in refused.flags:
            # the model has no answer for this steel; what is published for the grade may have, and the answer says so
            found = (
                None if "target_above_reach" in refused.flags else fallback(grade, target.HRC, time_s * tempers, aim)
            )
            if found is not None:
                read = (target.sentence,) if target.sentence else ()
                temperature, used, notes = found.temperature_C, found.used, read + found.notes
    said = outside_usual(grade, temperature.value) if used == "model" and tables != "ignore" else ""
    if said:
        temperature, notes = _core.flagged(temperature, "differs_from_published"), (*notes, said)
    return TemperLine(
        temperature_C=temperature,
        used=used,
        stays_from_C=setting.stays_from_C,
        stays_to_C=setting.stays_to_C,
        hardest_HRC=setting.hardest_HRC,
        softest_HRC=setting.softest_HRC,
        published_C=setting.published_C,
        time_s=time_s,
        tempers=tempers,
        notes=notes,
    )


def _steps(bar: Bar, grade: Grade | None, answers: dict[str, Any], tempers: int) -> tuple[order_of_work.Step, ...]:
    ac1, carbon = answers["ac1"].value, bar.composition.C
    aim = nan if answers["window_published"] else answers["aim"].value
    return order_of_work.steps(
        answers["family"] if grade is None else grade.family,
        facts=() if grade is None else grade.published(),
        designation="" if grade is None else grade.designation,
        carbon_wt=carbon if carbon > 0.0 else None,
        ac1_C=None if isnan(ac1) else ac1,
        hardening_C=None if isnan(aim) else aim,
        tempers=tempers,
    )


def _reasons(answers: dict[str, Any]) -> tuple[str, ...]:
    """Why the window lies where it lies; of a published one that replaces the computed one, both are named."""
    coolest, aim, hottest = answers["computed_window_C"]
    if not answers["window_published"] or isnan(aim):
        return tuple(answers["reasons"])
    return (
        f"The grade's published window is used, {answers['coolest'].value:.0f} to {answers['hottest'].value:.0f} degC: "
        f"the analysis is inside the grade, and the computed window lies elsewhere, {coolest:.0f} to {hottest:.0f} "
        f"degC with the aim at {aim:.0f}.",
        *(f"Of the computed window: {reason}" for reason in answers["reasons"]),
    )


def _cautions(
    grade: Grade | None, furnace: str, family: str, media: tuple[str, ...], steps: Any
) -> tuple[Caution, ...]:
    cold = any(step.name == "cold treat" and step.do for step in steps)
    trade = order_of_work.trade_family_of(family if grade is None else grade.family, grade)
    return cautions(*works_of_plan(furnace, media, trade, cold=cold), oil=not media or "oil" in media)


def make(
    bar: Any,
    shop: Shop | str | None = None,
    target: float | str | scales.Hardness | None = None,
    *,
    temper_time: Any = "2h",
    tempers: int | None = None,
    tables: str = "beside",
    detail: str = "screen",
) -> Plan:
    """The plan of one bar.

    Args:
        bar: a Bar, a Grade, a grade's name or a Composition (one steel).
        shop: a Shop or a furnace kind; an electric furnace if not given.
        target: wanted hardness: HRC, or ``"62HRC"``, ``"700HV"`` (`decalesce.scales.wanted`; ``temper.notes`` say how
            another scale was read); without it the plan ends at the quench.
        temper_time: time of one temper, s or ``"2h"``.
        tempers: how often; what the trade does with this family if not given.
        tables: ``"beside"``, ``"prefer"`` or ``"ignore"`` the grade's published tempering table. Beside, the model
            answers; where it has no answer for this steel, the table does, or the published temper range, and
            ``temper.used`` says so; so does the published as-quenched hardness, flagged ``published_value``.
        detail: ``"screen"``, closed forms and stored tables.

    Returns:
        A Plan. What cannot be answered is NaN with flags that say what to do.

    Raises:
        TypeError: something that is no bar or no target. ValueError: a batch, an unknown furnace, ``tables`` or
        ``detail``, a time of zero or less, a target off the Rockwell C scale. LookupError: an unknown grade.

    Accuracy: the middle of a published window is met within 15 K in 0.70 of those fitted and 0.76 of those held out
    (plain steel above the eutectoid held out: one in five, 20 to 30 K too hot); temper bands are set to hold nine in
    ten rows of steels left out of the fit (data/fit). Sources: the ``sources`` of each estimate.
    """
    if detail != "screen":
        raise ValueError(f"detail = {detail!r}; expected 'screen'")
    piece = bar_of(bar)
    place = shop_of(shop)
    w = piece.composition
    if w.shape:
        raise ValueError("bar holds a batch of steels; expected one, or use decalesce.plan.batch")
    judged = standing(w, piece.grade)
    grade = None if judged == NOT_THIS_GRADE else piece.grade
    time_s = units.time_s(temper_time, "temper_time")
    if time_s <= 0.0:
        raise ValueError(f"temper_time = {temper_time!r}; expected a time above zero, such as '2h'")
    times = tempers
    if times is None:
        times = temper.tempers_usual(grade, str(_core.critical_temperatures(w).family))
    wanted = scales.Hardness(nan) if target is None else scales.wanted(target, "target")
    section: Section | None = piece.section
    answers = _core.plan_one(
        w,
        section,
        place.furnace,
        wanted.HRC,
        time_s,
        times,
        *window_ends(grade),
        air_hardening(grade),
        temper.embrittles_back(grade),
        judged,
    )
    q: AsQuenched = answers["quenched"]
    hardness: Estimate = answers["as_quenched_HRC"]
    if tables != "ignore" and isnan(hardness.value) and not isnan(answers["aim"].value):
        hardness = published_as_quenched(grade, answers["aim"].value) or hardness
    line = None
    if target is not None:
        aim = answers["aim"].value
        line = _temper_line(
            q,
            grade,
            target=wanted,
            time_s=time_s,
            tempers=times,
            tables=tables,
            aim=aim,
            screened=answers["temper_C"],
        )
    quench = quench_room.line(grade, section)
    steps = _steps(piece, grade, answers, times)
    return Plan(
        bar=piece,
        composition=w,
        family=answers["family"],
        detail=detail,
        critical={name: answers[name] for name in ("ac1", "ac3", "acm", "ms", "mf", "bs")},
        coolest_C=answers["coolest"],
        aim_C=answers["aim"],
        hottest_C=answers["hottest"],
        window_used="published" if answers["window_published"] else "computed",
        published_window=None if grade is None else published_window(grade),
        heat_up_s=answers["heat_up_s"],
        equalize_s=answers["equalize_s"],
        hold_s=answers["hold_s"],
        hold_rule=answers["hold_rule"],
        preheat_C=answers["preheat_C"],
        carbon_in_solution=answers["carbon"],
        quench=quench,
        quenched=q,
        as_quenched_HRC=hardness,
        retained_austenite=answers["retained_austenite"],
        target_HRC=wanted.HRC,
        temper=line,
        steps=steps,
        reasons=_reasons(answers),
        narrowing=tuple(Narrowing(*blame) for blame in answers["blame"]),
        cautions=_cautions(grade, place.furnace, answers["family"], quench.media, steps),
    )
