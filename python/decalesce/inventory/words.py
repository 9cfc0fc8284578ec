"""The vocabulary of certificates and rack lists: English, German, French.

Words are held folded: lower case, accents off (``fold``). EN 10168 names the contents of an inspection document (heat
number, product, chemical composition); the words here are those in daily use (common practice, no source).
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

ELEMENTS = ("C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Cu", "Co", "Al", "Nb", "Ti", "N", "B", "P", "S", "As", "Sn")
OTHER_ELEMENTS = frozenset(
    {
        "Fe",
        "Zr",
        "Pb",
        "Ca",
        "Sb",
        "Ta",
        "O",
        "H",
        "Se",
        "Te",
        "Ce",
        "La",
        "Mg",
        "Zn",
        "Bi",
        "Be",
        "Hf",
        "Re",
        "Pt",
        "Ag",
    }
)


@lru_cache(maxsize=4096)
def fold(text: str) -> str:
    """Lower case, accents off, ß as ss."""
    decomposed = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("ẞ", "ss"))
    return "".join(c for c in decomposed if not unicodedata.combining(c)).casefold()


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


ELEMENT_NAMES: dict[str, str] = {
    name: symbol
    for symbol, names in {
        "C": "carbon kohlenstoff carbone",
        "Mn": "manganese mangan manganese",
        "Si": "silicon silizium silicium",
        "Cr": "chromium chrom chrome",
        "Ni": "nickel",
        "Mo": "molybdenum molybdan molybdaen molybdene moly",
        "V": "vanadium vanadin",
        "W": "tungsten wolfram tungstene",
        "Cu": "copper kupfer cuivre",
        "Co": "cobalt kobalt",
        "Al": "aluminium aluminum",
        "Nb": "niobium niob columbium cb",
        "Ti": "titanium titan titane",
        "N": "nitrogen stickstoff azote n2",
        "B": "boron bor bore",
        "P": "phosphorus phosphor phosphore phosphorous",
        "S": "sulphur sulfur schwefel soufre",
        "As": "arsenic arsen",
        "Sn": "tin zinn etain",
        "Fe": "iron eisen fer",
    }.items()
    for name in names.split()
}

ABSENT = _words(
    "nd n/d na n/a nb ka nn nr n/r none null nil absent notdetermined notdetected notanalysed notanalyzed "
    "notreported notstated notmeasured nichtbestimmt nichtnachgewiesen nichtgemessen keineangabe "
    "nondetermine nondose nonmesure nondéterminé nondosé nonmesuré nonindiqué nichtgeprüft nm leer "
    "missing unknown"
)
TRACE = _words("tr trace traces spur spuren sp trc")
UPPER = _words("max maxi maxim maximum höchst hoechst höchstens upto bis jusqu jusque")
LOWER = _words("min mini minimum mindestens mind from ab")
SPREADSHEET_ERRORS = frozenset(
    [
        "#n/a",
        "#nv",
        "#na",
        "#div/0!",
        "#value!",
        "#wert!",
        "#valeur!",
        "#ref!",
        "#bezug!",
        "#name?",
        "#nom?",
        "#num!",
        "#zahl!",
        "#nombre!",
        "#null!",
        "#nul!",
        "#spill!",
    ]
)

_UNIT_WORDS = {
    "%": "%",
    "percent": "%",
    "prozent": "%",
    "pct": "%",
    "wt%": "%",
    "wtpct": "%",
    "mass%": "%",
    "masse%": "%",
    "massen%": "%",
    "gew%": "%",
    "gewichts%": "%",
    "ma%": "%",
    "m%": "%",
    "w%": "%",
    "m/m": "%",
    "%m/m": "%",
    "%wt": "%",
    "%mass": "%",
    "%masse": "%",
    "%gew": "%",
    "massprozent": "%",
    "gewprozent": "%",
    "pourcent": "%",
    "ppm": "ppm",
    "ppmw": "ppm",
    "wtppm": "ppm",
    "mg/kg": "ppm",
    "ug/g": "ppm",
    "µg/g": "ppm",
    "μg/g": "ppm",
    "‰": "‰",
    "o/oo": "‰",
    "0/00": "‰",
    "permille": "‰",
    "permil": "‰",
    "promille": "‰",
    "pourmille": "‰",
    "g/kg": "‰",
    "x10": "x10",
    "x100": "x100",
    "x1000": "x1000",
    "x10000": "x10000",
}


@lru_cache(maxsize=4096)
def element_unit(text: str) -> str | None:
    """The unit of a content: ``%``, ``ppm``, ``‰``, ``x100`` (the printed number is 100 times the content); None when
    the text is no such unit."""
    squeezed = re.sub(r"[\s.\-()\[\]]", "", text).casefold().replace("×", "x").replace("*", "x")
    return _UNIT_WORDS.get(squeezed)


NOISE = _words(
    "content gehalt teneur analysis analyse analyses anal chem chemical en in of de du la le der des wt "
    "gew weight mass masse massen ma total tot ges gesamt element value wert valeur actual ist result "
    "resultat ergebnis measured gemessen mesure the and sur on"
)
MIN_WORDS = _words("min mini minimum mind mindest von lower low")
MAX_WORDS = _words("max maxi maximum hochst hoechst upper high")
SOLUBLE = _words("sol soluble loslich los sl acid")

LADLE = _words(
    "ladle heat cast melt schmelze schmelzanalyse schmelzenanalyse schmelz coulee charge chargenanalyse "
    "pfanne poche l h"
)
PRODUCT = _words(
    "product check piece stuck stueck stuckanalyse stueckanalyse produkt produit produktanalyse bar p kontrolle"
)

# Phrases (folded, single spaces) to the kind of column. The first list that holds the phrase decides.
KINDS: dict[str, frozenset[str]] = {
    kind: frozenset(phrase.strip() for phrase in phrases.split("|"))
    for kind, phrases in {
        "piece_id": "piece|piece id|piece no|piece number|bar|bar id|bar no|bar number|id|item|item no|"
        "tag|tag no|stock no|stock id|stock number|rack no|rack place|mark|position|pos|"
        "pos nr|stuck|stuck nr|stucknummer|stab|stab nr|stabnummer|teil nr|lager nr|"
        "lagernummer|kennzeichen|repere|barre|no barre|n barre|numero de barre|numero barre|"
        "piece n|numero de piece|numero piece|reference|ref",
        "grade": "grade|steel|steel grade|material|material grade|quality|alloy|stahl|stahlsorte|sorte|"
        "werkstoff|werkstoffnummer|werkstoff nr|wnr|w nr|wst nr|gute|nuance|acier|"
        "nuance d acier|nuance acier|qualite|matiere|designation|steel designation|bezeichnung|"
        "kurzname|material no|material number|mat no",
        "heat_number": "heat|heat no|heat nr|heat number|heat id|heat code|cast|cast no|cast number|melt|"
        "melt no|melt number|charge|charge nr|charge no|chargen nr|chargennr|chargennummer|"
        "schmelze|schmelze nr|schmelzen nr|schmelzennr|schmelzennummer|schmelznummer|schmelz nr|"
        "coulee|no coulee|n coulee|numero de coulee|numero coulee|coulee n|coulee no|b07|"
        "heat lot",
        "size": "size|section|sizes|dimension|dimensions|dim|dims|abmessung|abmessungen|mass|masse|"
        "massangabe|format|taille|section size|querschnitt|profil|bar size|stock size|"
        "nominal size|nennmass",
        "thickness": "thickness|thick|thk|th|dicke|starke|staerke|epaisseur|ep|gauge|spine",
        "width": "width|wide|breite|largeur|larg|wd",
        "diameter": "diameter|dia|diam|durchmesser|diametre|o|ø|⌀|od|round",
        "length": "length|len|long|lange|laenge|longueur|lg",
        "shape": "shape|form|profile|querschnittsform|forme|bar shape|section shape",
        "condition": "condition|cond|delivery condition|supply condition|as delivered|state|zustand|"
        "lieferzustand|behandlungszustand|etat|etat de livraison|heat treatment condition|"
        "surface condition|finish",
        "target_hardness": "target|target hardness|target hrc|wanted hardness|wanted hrc|aim hardness|aim hrc|"
        "hardness aim|required hardness|required hrc|gewunschte harte|gewunschte haerte|gewuenschte haerte|"
        "soll harte|sollharte|zielharte|ziel harte|"
        "durete visee|durete cible|durete demandee|hardness target|hardness wanted|hrc target|"
        "hrc wanted|hrc aim|soll hrc|ziel hrc|hrc soll|hrc ziel|hrc vise|hrc cible",
        "hardness": "hardness|harte|haerte|durete|hb|hbw|hbs|hrc|hv|hv10|hv30|brinell|rockwell|"
        "rockwell c|vickers|delivered hardness|as delivered hardness|supply hardness|anlieferharte|"
        "lieferharte|hardness as delivered",
        "analysis_kind": "analysis kind|analysis type|type of analysis|kind of analysis|analyseart|art der analyse|"
        "type d analyse|analysis|analyse|analyseverfahren|sample|probe|test|row|line|zeile|"
        "ligne|kind",
    }.items()
}
TEMPERATURES: dict[str, frozenset[str]] = {
    "harden": _words(
        "harden hardening austenitize austenitizing austenitise austenitising quench hardeningtemp harten "
        "hartetemperatur hartetemp austenitisieren austenitisierung trempe austenitisation soak harte"
    ),
    "temper": _words("temper tempering draw anlassen anlasstemperatur anlasstemp revenu"),
    "forge": _words("forge forging schmieden schmiedetemperatur forgeage forger"),
    "anneal": _words(
        "anneal annealing normalize normalizing normalise normalising gluhen gluhtemperatur normalgluhen "
        "weichgluhen recuit normalisation relief stress"
    ),
}  # fmt: skip
TEMPERATURE_WORDS = _words(
    "temperature temp t temperatur hartetemperatur hartetemp anlasstemperatur anlasstemp "
    "schmiedetemperatur gluhtemperatur"
)
UNIT_TOKENS: dict[str, str] = {
    "mm": "mm", "millimeter": "mm", "millimetre": "mm", "millimetres": "mm", "cm": "cm", "m": "m", "inch": "inch",
    "inches": "inch", "zoll": "inch", "pouce": "inch", "pouces": "inch", "ft": "ft", "°c": "°C", "degc": "°C",
    "celsius": "°C", "°f": "°F", "degf": "°F", "fahrenheit": "°F", "hrc": "HRC", "hb": "HB", "hbw": "HB",
    "hbs": "HB", "hv": "HV", "hv10": "HV", "hv30": "HV", "brinell": "HB", "vickers": "HV", "rockwell": "HRC",
}  # fmt: skip
CONDITIONS = (
    "not stated", "hot rolled", "cold drawn", "ground", "annealed", "spheroidized", "normalized",
    "quenched and tempered", "other",
)  # fmt: skip
CONDITION_WORDS: dict[str, frozenset[str]] = {
    "spheroidized": _words(
        "spheroidized spheroidised spheroidize gkz +ac ac kugelig globulaire globularise spheroidise"
    ),
    "quenched and tempered": _words(
        "quenched hardened tempered qt +qt q+t vergutet +v prehard prehardened trempe vorvergutet"
    ),
    "normalized": _words("normalized normalised normalgegluht +n n normalise"),
    "annealed": _words("annealed +a a weichgegluht gegluht recuit soft anneal softannealed gluhen adouci"),
    "ground": _words("ground geschliffen rectifie +sl precision gfs pg"),
    "cold drawn": _words("drawn cold +c cd gezogen kaltgezogen blankgezogen blank etire +sh cr kaltgewalzt"),
    "hot rolled": _words(
        "rolled hr hot +ar +u ar u warmgewalzt gewalzt walzroh lamine asrolled forged geschmiedet forge roh"
    ),
}  # fmt: skip
SHAPES = ("unknown", "plate", "round", "square", "hexagon", "rectangle")
SHAPE_WORDS: dict[str, frozenset[str]] = {
    "round": _words("rd rnd round rund rond rounds dia diam diameter durchmesser rods rod rundstahl rundstab"),
    "square": _words("sq square vkt vierkant carre quadrat 4kt"),
    "hexagon": _words("hex hexagon hexagonal sw sechskant 6kt 6kant hexagone"),
    "rectangle": _words("fl flat flach plat flats flachstahl flachstab rectangle rectangular bar meplat"),
    "plate": _words("plate sheet pl blech tole strip band platte bande"),
}
UNSUPPORTED_SHAPES = _words("tube pipe rohr tuyau angle winkel channel wire draht")
