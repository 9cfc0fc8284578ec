"""The keys of the JSON documents, as `--help` prints them.

Every number in a document is an object with ``value low high unit flags level parts sources``; ``value`` is null where
there is no answer and ``no_answer`` then says why. Temperatures are degC, differences K, times s, lengths mm, whatever
``--units`` says. A key is never renamed within a schema version.
"""

from textwrap import wrap
from typing import Final

SCHEMA: Final = 1

COMMON: Final = {
    "schema": "version of this document, a whole number",
    "command": "the command that was asked",
    "version": "version of decalesce",
    "flags": "every flag of the answers: id, level, sentence, and the numbers that carry it",
    "level": "the gravest level: note, caution or stop",
    "sources": "bibliography keys of everything said, with their text",
    "cautions": "id, level, text, source and status of each caution of the work",
}
_STEEL: Final = {"steel": "grade, amounts with half-width and status, family, and what was read with doubt"}

KEYS: Final = {
    "critical": _STEEL | {"critical": "ac1, ac3, acm, ms, mf and bs"},
    "soak": _STEEL
    | {
        "section": "shape and lengths of the piece",
        "furnace": "kind of furnace",
        "set_point_C": "set point, degC",
        "ramp_K_h": "how fast a cold kiln climbs, K/h, or null",
        "soak": "heat_up, equalize, hold, hold_rule and preheat_C",
        "heat_up": "time to heat through, its causes, unevenness, what limits, rate at Ac1, reasons",
        "in_air": "time from furnace to tank until the first and the last of it is at to_C, or null",
        "rules": "published and common rules beside: text, minutes, what they count, source, status",
        "check": "the soak somebody wants to use against the one that is due, or null",
    },
    "austenitize": _STEEL
    | {
        "window": "coolest, aim, hottest, which of computed and published is used, and the published range",
        "after": "by temperature: time, carbon in solution, carbide left, as-quenched hardness, retained austenite",
        "reasons": "why the window lies there",
    },
    "temper": {
        "steel": "as in the other commands, or null for a plain conversion",
        "question": "hardness, temperature or conversion",
        "temper": "temperature, time and times of the temper that was asked",
        "quenched": "the quenched steel it starts from, or null",
        "answer": "the answer, the model and the published table beside it, margins",
        "conversion": "parameter, equivalent temperature and time, each by constant, or null",
        "practice": "rules of the trade: sentence, range, source, status",
    },
    "plan": _STEEL
    | {
        "section": "shape and lengths of the piece, or null",
        "furnace": "kind of furnace",
        "detail": "how deep the answer was computed",
        "critical": "ac1, ac3, acm, ms, mf and bs",
        "window": "coolest, aim, hottest, which is used, and the published range",
        "soak": "heat_up, equalize, hold, hold_rule and preheat_C",
        "quench": "published media, what was not evaluated, carbon in solution, hardness, retained austenite",
        "temper": "wanted hardness, temperature, what gave it, margins, published table beside, notes, or null",
        "steps": "the order of work",
        "reasons": "why",
        "narrowing": "amounts that blur the plan, and by how much",
        "unknown": "what can be said of a bar with neither grade nor analysis, else an empty list",
    },
    "inventory": {
        "source": "the file that was read",
        "rows": "number of rows, as many as the source has",
        "counts": "rows by level",
        "table": "what was found about the table as a whole: rule, level, what was seen, message",
        "bars": "one object a row, in the order of the source: every result column by name",
        "loads": "rows that can share the hardening furnace and the tempering oven",
        "certificates": "one report a certificate file",
        "output": "the file that was written, or null",
    },
    "grades": {
        "grades": "one object a grade: designation, numbers, family, limits, published facts, source, status, note",
        "match": "how the name that was asked matches, or null",
    },
    "sources": {
        "formulas": "one object a formula: id, quantity, citation, status, range, standard error",
        "bibliography": "one object a publication: key, text, status, note with errata",
        "remembered": "number of formulas written down from memory",
        "range_remembered": "number of formulas seen in print whose range alone is from memory",
    },
}


def epilog(command: str) -> str:
    """The keys of a command's document, for its help."""
    keys = COMMON | KEYS[command]
    width = max(map(len, keys))
    lines = ["\b", "Keys of the --json document:"]
    for key, meaning in keys.items():
        lines += wrap(f"{key:<{width}}  {meaning}", 76, initial_indent="  ", subsequent_indent=" " * (width + 4))
    return "\n".join(lines)
