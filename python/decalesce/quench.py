"""The quench line of a plan, as far as the screen goes: the grade's published medium, or nothing.

Whether a section hardens through in a tank is not evaluated here; the hardness a full quench reaches is
``decalesce.AsQuenched.fully_hardened(austenite)``.

>>> import decalesce as dc
>>> dc.quench.line(dc.grades.find("O1")).media
('oil',)
"""

from dataclasses import dataclass

from decalesce.grade import Fact, Grade

__all__ = ["QuenchLine", "line"]


@dataclass(frozen=True, slots=True)
class QuenchLine:
    """What a plan can say of the quench: published media, any of which is named, with the facts they come from.

    ``evaluated`` is False: no section, tank or cooling was looked at. ``sentence`` says so in words.
    """

    media: tuple[str, ...]
    sentence: str
    facts: tuple[Fact, ...]
    evaluated: bool = False


_not_evaluated = "Whether this section hardens through is not evaluated here: test a piece and read its hardness."


def line(grade: Grade | None) -> QuenchLine:
    """The published quench medium of a grade; without a grade, or where nothing is published, no medium at all.

    Several sources are joined; each medium is named once, the best-seen source first. Raises TypeError for anything but
    a Grade or None.
    """
    if grade is None:
        return QuenchLine((), f"No grade, so no published medium. {_not_evaluated}", ())
    if not isinstance(grade, Grade):
        raise TypeError(f"grade = {grade!r}; expected a Grade, e.g. decalesce.grades.find('O1'), or None")
    facts = grade.published("quench_medium")
    media = tuple(dict.fromkeys(part.strip() for fact in facts for part in str(fact.value).split(";")))
    if not media:
        return QuenchLine((), f"No medium is published for {grade.designation}. {_not_evaluated}", ())
    # a condition belongs to the media of its own source, never to the others
    own = dict.fromkeys(f"{str(fact.value).replace(';', ',')}: {fact.conditions}." for fact in facts if fact.conditions)
    said = " ".join(["", *own])
    return QuenchLine(media, f"Published for {grade.designation}: {', '.join(media)}.{said} {_not_evaluated}", facts)
