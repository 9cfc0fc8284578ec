"""The shop: what the user heats and tempers with."""

from dataclasses import dataclass

FURNACES = ("still_electric", "forced_air", "gas_fired", "neutral_salt", "fluidized_bed")


@dataclass(frozen=True, slots=True)
class Shop:
    """The furnace kind, one of `FURNACES`. Raises ValueError for another."""

    furnace: str = "still_electric"

    def __post_init__(self) -> None:
        """Refuse a furnace nobody knows."""
        if self.furnace not in FURNACES:
            raise ValueError(f"furnace = {self.furnace!r}; expected one of {', '.join(FURNACES)}")


def shop_of(given: "Shop | str | None") -> Shop:
    """A shop as it is, a furnace kind as a shop, None as an electric furnace. Raises TypeError for anything else."""
    if given is None:
        return Shop()
    if isinstance(given, Shop):
        return given
    if isinstance(given, str):
        return Shop(given)
    raise TypeError(f"shop = {given!r}; expected a Shop or a furnace kind such as 'still_electric'")
