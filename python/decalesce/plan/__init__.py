"""The plan: the walk of a bar through the rooms, in the order of the work.

`make` plans one bar; `batch` a rack held as arrays; `share_loads` says which bars can go into the furnace together.
"""

from decalesce.plan.cautions import Caution, cautions
from decalesce.plan.loads import Load, share_loads
from decalesce.plan.make import Narrowing, Plan, TemperLine, make
from decalesce.plan.rack import batch
from decalesce.plan.shop import Shop
from decalesce.plan.standing import NOT_THIS_GRADE
from decalesce.plan.unknown import without_grade_or_certificate

__all__ = [
    "NOT_THIS_GRADE",
    "Caution",
    "Load",
    "Narrowing",
    "Plan",
    "Shop",
    "TemperLine",
    "batch",
    "cautions",
    "make",
    "share_loads",
    "without_grade_or_certificate",
]
