"""A furnace with a load: limits, the energy balance, an independent solution, published figures beside."""

from dataclasses import FrozenInstanceError

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import decalesce as dc
from decalesce.conduction import Material

STEFAN_BOLTZMANN = 5.670374419e-8  #: W/m2K4, CODATA 2018
ZERO_C = 273.15
BOX = dc.furnace.Furnace(inside_mm=(200, 150, 350), lining_mm=115, power_W="3kW")
BLANK = dc.Section("rectangle", 6, 40)
COPPERY = Material.constant(4000.0, 640.0, 7850.0)  # so conductive that a blank has one temperature


def drawn(power_W=3000.0, **others):
    settings = {"w": "1084", "length_mm": 250, "pieces": 6, "gap_mm": 20} | others
    box = dc.furnace.Furnace(inside_mm=(200, 150, 350), lining_mm=115, power_W=power_W)
    return dc.furnace.load(box, 820, BLANK, **settings)


@pytest.fixture(scope="module")
def usual() -> dc.furnace.Loaded:
    return drawn()


def test_loss_by_hand() -> None:
    """Slab of geometric-mean area and outer film; group 23 firebrick 0.12 + 1.0e-4 T (page), film 10 (no source)."""
    inner = 2 * (0.20 * 0.15 + 0.15 * 0.35 + 0.35 * 0.20)
    outer = 2 * (0.43 * 0.38 + 0.38 * 0.58 + 0.58 * 0.43)
    outside_C = 100.0
    for _ in range(50):
        k = 0.12 + 1.0e-4 * (850.0 + outside_C) / 2
        loss = 830.0 / (0.115 / (k * np.sqrt(inner * outer)) + 1.0 / (10.0 * outer))
        outside_C = 20.0 + loss / (10.0 * outer)
    assert BOX.loss_W(850) == pytest.approx(loss, rel=1e-9)
    assert BOX.flags_at(850) == ()
    assert BOX.loss_W("1562F") == pytest.approx(BOX.loss_W(850))
    assert BOX.loss_W(20) == 0.0
    assert "outside_table" in dc.furnace.Furnace((200, 150, 350), "fibre_blanket_64", 50).flags_at(850)


def test_the_balance_and_the_two_ways_to_the_steel(usual: dc.furnace.Loaded) -> None:
    went = usual.into_load_kWh + usual.lost_kWh + usual.stored_kWh
    assert usual.energy_kWh == pytest.approx(went, rel=1e-9)
    assert usual.steel.heat_in_J * usual.units == pytest.approx(usual.into_load_J, rel=1e-6)
    assert usual.steel.enthalpy_gained_J * usual.units == pytest.approx(usual.into_load_J, rel=1e-6)
    # the heat that this mass of steel holds at its mean temperature
    steel = dc.thermal.steel("1084")
    mean = usual.steel.mean_C(usual.steel.end_s)
    assert usual.mass_kg == pytest.approx(6 * 0.006 * 0.040 * 0.250 * steel.density_kg_m3)
    assert usual.into_load_J == pytest.approx(usual.mass_kg * float(steel.enthalpy_at(mean)), rel=1e-3)


def lumped_by_scipy(set_point: float, pieces: int, door_s: float, film: float, emissivity: float):
    """Chamber, 90 even slices of lining and a load of one temperature, by BDF; power clamped by two events."""
    slices, thick = 90, 0.115
    inner = 2 * (0.20 * 0.15 + 0.15 * 0.35 + 0.35 * 0.20)
    outer = 2 * (0.43 * 0.38 + 0.38 * 0.58 + 0.58 * 0.43)
    area, out = np.sqrt(inner * outer), 10.0 * outer
    loss = BOX.loss_W(set_point)
    k = 0.12 + 1.0e-4 * (set_point + 20.0 + loss / out) / 2
    link, slice_J_K = k * area * slices / thick, 1050.0 * 510.0 * area * thick / slices
    capacity = np.full(slices + 1, slice_J_K)
    capacity[[0, -1]] *= 0.5
    capacity[0] += BOX.contents_J_K
    steel_J_K = pieces * 0.006 * 0.040 * 0.250 * 7850.0 * 640.0
    skin = pieces * 2 * (0.006 + 0.040) * 0.250

    def radiated(hot, cold):
        return STEFAN_BOLTZMANN * ((hot + ZERO_C) ** 4 - (cold + ZERO_C) ** 4)

    def rates(state, power, door):
        walls, steel = state[:-1], state[-1]
        flow = link * np.diff(walls)
        into = np.zeros(slices + 1)
        into[:-1] += flow
        into[1:] -= flow
        into[-1] += out * (20.0 - walls[-1])
        drawn_W = 0.0 if door else skin * (film * (walls[0] - steel) + emissivity * radiated(walls[0], steel))
        into[0] -= drawn_W + (0.20 * 0.15 * radiated(walls[0], 20.0) if door else 0.0)
        if power is None:  # held at set point
            into[0] = 0.0
        else:
            into[0] += power
        return np.append(into / capacity, drawn_W / steel_J_K)

    def there(_, state):
        return state[0] - (set_point - 1e-9)

    def arrived(_, state):
        return state[-1] - (set_point - 10.0)

    def back(_, state):
        return state[0] - (set_point - 5.0)

    back.direction = there.direction = arrived.direction = 1
    there.terminal = True
    how = {"method": "BDF", "rtol": 1e-7, "atol": 1e-5}
    start = np.append(set_point - loss / link * np.arange(slices + 1), 20.0)
    opened = solve_ivp(lambda _, y: rates(y, 0.0, True), (0, door_s), start, **how)
    full = solve_ivp(
        lambda _, y: rates(y, BOX.power_W, False), (0, 7200), opened.y[:, -1], events=(there, back, arrived), **how
    )
    start = full.y[:, -1]
    start[0] = set_point
    held = solve_ivp(lambda _, y: rates(y, None, False), (full.t[-1], 7200), start, events=(arrived,), **how)
    return set_point - full.y[0].min(), full.t_events[1][0], held.t_events[0][0]


@pytest.mark.parametrize(("pieces", "door_s"), [(4, 10.0), (10, 20.0)])
def test_a_thin_load_against_scipy(pieces: int, door_s: float) -> None:
    film = dc.thermal.film(BOX.kind)
    found = dc.furnace.load(BOX, 820, BLANK, w=COPPERY, length_mm=250, pieces=pieces, door_open=door_s)
    drop, recovered, arrived = lumped_by_scipy(820.0, pieces, door_s, film.convection_W_m2K[1], film.emissivity[1])
    assert found.drop_K == pytest.approx(drop, rel=0.005)
    assert found.recovered_s == pytest.approx(recovered, rel=0.005)
    assert found.steel_within_s == pytest.approx(arrived, rel=0.005)


def test_much_power_and_a_small_load_is_a_piece_alone() -> None:
    found = drawn(1e6, pieces=1, length_mm=1.0, door_open=0)
    assert found.drop_K < 1e-6
    assert found.recovered_s == 0.0
    assert found.steel_within_s == pytest.approx(found.alone_s, rel=1e-3)


def test_more_pieces_are_never_sooner() -> None:
    for gap in (None, 0, 20):
        times = [drawn(pieces=n, gap_mm=gap).steel_within_s for n in (1, 2, 3, 6, 9)]
        assert np.all(np.diff(times) > 0.0)
        assert times[0] >= drawn(pieces=1).alone_s


def test_a_wider_gap_is_never_later() -> None:
    times = [drawn(gap_mm=gap).steel_within_s for gap in (5, 10, 20, 40, 400)]
    assert np.all(np.diff(times) < 0.0)
    assert times[-1] == pytest.approx(drawn(gap_mm=None).steel_within_s, rel=0.02)


def test_finer_changes_less_than_half_a_percent(usual: dc.furnace.Loaded) -> None:
    fine = drawn(finer=2)
    for name in ("steel_within_s", "recovered_s", "drop_K"):
        assert getattr(usual, name) == pytest.approx(getattr(fine, name), rel=0.005), name


def test_touching_pieces_are_one_block() -> None:
    """Four squares in a row are a bar of their size; an independent call makes it."""
    row = dc.furnace.load(BOX, 820, dc.Section("square", 10), w="O1", length_mm=250, pieces=4, gap_mm=0)
    bar = dc.furnace.load(BOX, 820, dc.Section("rectangle", 10, 40), w="O1", length_mm=250)
    assert row.steel_within_s == pytest.approx(bar.steel_within_s, rel=1e-9)
    assert row.mass_kg == pytest.approx(bar.mass_kg)
    assert row.arrangement == "one_block"
    assert any("touch" in sentence for sentence in row.sentences)


def test_open_share() -> None:
    """Hottel's crossed strings: strips as wide as they are apart, F = sqrt(2) - 1; the ends."""
    assert dc.furnace.open_share(0, 40) == 0.0
    assert dc.furnace.open_share(40, 40) == pytest.approx(2.0 - np.sqrt(2.0))
    assert dc.furnace.open_share("40in", "1mm") == pytest.approx(1.0, abs=1e-3)
    shares = [dc.furnace.open_share(gap, 40) for gap in range(200)]
    assert np.all(np.diff(shares) > 0.0)


@pytest.mark.parametrize(("gap_mm", "factor"), [(None, 1.0), (25, 1.3), (0, 2.0)])
def test_load_factors_from_memory_beside(gap_mm, factor: float, record_property) -> None:
    """Free 1.0, one diameter apart 1.3, touching row 2.0 (recollected, order of magnitude): not gated closer."""
    big = dc.furnace.Furnace(inside_mm=(300, 300, 600), power_W="60kW")
    rounds = dc.Section("round", 25)
    found = dc.furnace.load(big, 820, rounds, w="1045", length_mm=200, pieces=6, gap_mm=gap_mm, door_open=0)
    record_property("load_factor", f"{found.load_factor:.2f}, remembered {factor}")
    assert factor / 1.5 < found.load_factor < factor * 1.5


def test_published_recovery_beside(usual: dc.furnace.Loaded, record_property) -> None:
    """A small furnace drops 20 to 50 K and is back in 5 to 15 min (one page and memory): beside, not gated."""
    record_property("recovery", f"{usual.drop_K:.0f} K, {usual.recovered_s / 60:.1f} min")
    assert 0.0 < usual.recovered_s < usual.steel_within_s


def test_the_answer_in_words(usual: dc.furnace.Loaded) -> None:
    first, second, third = usual.sentences
    assert first.startswith(f"Count the soak from {usual.steel_within_s / 60:.1f} min after the door closed")
    assert f"set point again at {usual.recovered_s / 60:.1f} min" in second
    assert "38 %" in third
    assert "TradePages" in usual.sources  # of the firebrick
    assert usual.cautions[-1].startswith("These notes are not a safety plan")
    assert any("licensed electrician" in text for text in usual.cautions)
    assert usual.load_factor == usual.steel_within_s / usual.alone_s
    hot = dc.furnace.load(BOX, 1270, BLANK, w="1084", length_mm=100)
    assert "above the 1260 degC" in hot.cautions[0]
    gas = dc.furnace.Furnace((200, 150, 350), "fibre_blanket_128", 50, "8kW", kind="gas_fired")
    said = " ".join(dc.furnace.load(gas, 820, BLANK, w="1084", length_mm=100).cautions)
    assert "carbon monoxide" in said
    assert "fibre" in said
    assert "Mains" not in said


def test_a_furnace_colder_than_the_work() -> None:
    found = dc.furnace.load(BOX, 200, BLANK, w="1084", length_mm=250, start_C=700)
    assert "not_heating" in found.flags
    assert found.into_load_J < 0.0
    assert "not_heating" not in drawn(pieces=1).flags


def test_a_time_too_short_is_said() -> None:
    found = drawn(duration="3 min")
    assert np.isnan(found.steel_within_s)
    assert np.isnan(found.recovered_s)
    assert "not_at_temperature" in found.flags
    assert found.chamber.duration_s == 180.0
    assert found.sentences[0].startswith("The steel is not within 10 K of 820 degC")


def test_with_the_door_switch_the_furnace_falls_further() -> None:
    assert drawn(door_open="30s").drop_K > drawn(door_open="30s", door_switch=False).drop_K > drawn(door_open=0).drop_K


def test_a_bar_brings_its_steel() -> None:
    bar = dc.Bar(grade=dc.grades.find("1084"), section=BLANK)
    found = dc.furnace.load(BOX, 820, bar, length_mm=250, pieces=6, gap_mm=20)
    assert found.steel_within_s == drawn().steel_within_s
    plate = dc.furnace.load(BOX, 820, dc.Section("plate", 6), w="1084", width_mm=40, length_mm=250, pieces=6, gap_mm=20)
    assert plate.steel_within_s == drawn().steel_within_s


@pytest.mark.parametrize("shape", ["round", "square", "hexagon", "rectangle", "wedge", "block"])
@pytest.mark.parametrize("gap_mm", [None, 0, 10])
def test_every_shape_answers(shape: str, gap_mm) -> None:
    sizes = {"rectangle": (30.0,), "wedge": (30.0, 0.0, 1.0), "block": (30.0, 40.0)}.get(shape, ())
    found = dc.furnace.load(
        BOX, 820, dc.Section(shape, 12, *sizes), w="5160", length_mm=200, pieces=3, gap_mm=gap_mm, cells=3
    )
    assert found.steel_within_s > found.alone_s
    assert found.energy_kWh == pytest.approx(found.into_load_kWh + found.lost_kWh + found.stored_kWh, rel=1e-9)


def test_a_furnace_is_a_value() -> None:
    same = dc.furnace.Furnace(inside_mm=("200mm", 150, 350), lining_mm="115 mm", power_W=3000)
    assert same == BOX
    assert hash(same) == hash(BOX)
    with pytest.raises(FrozenInstanceError):
        BOX.power_W = 1.0  # type: ignore[misc]
    for lining in dc.furnace.LININGS:
        assert dc.furnace.Furnace((200, 150, 350), lining).loss_W(850) > 0.0


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"inside_mm": (200, 150)}, r"inside_mm = \(200, 150\); expected width, height and depth"),
        ({"inside_mm": (200, 0, 350)}, "inside_mm, height = 0.0; expected"),
        ({"lining": "straw"}, "lining = 'straw'; expected one of insulating_firebrick"),
        ({"lining_mm": -1}, "lining_mm = -1.0; expected"),
        ({"power_W": "3"}, "power_W = '3' has no unit"),
        ({"power_W": 0}, "power_W = 0.0; expected"),
        ({"contents_J_K": -1.0}, "contents_J_K = -1.0; expected zero or more"),
        ({"kind": "camp_fire"}, "kind = 'camp_fire'; expected one of still_electric"),
        ({"kind": "neutral_salt"}, "contents_J_K is not given; expected mass times heat capacity"),
    ],
)
def test_furnaces_that_cannot_be(settings, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        dc.furnace.Furnace(**({"inside_mm": (200, 150, 350)} | settings))


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"pieces": 0}, "pieces = 0; expected a whole number"),
        ({"pieces": 2.5}, "pieces = 2.5; expected a whole number"),
        ({"pieces": 500}, "litres of steel; expected less than the chamber's 10.5 litres"),
        ({"gap_mm": -1}, "gap_mm = -1; expected zero or more"),
        ({"length_mm": None}, "length_mm is not given"),
        ({"length_mm": 0}, "length_mm = 0; expected a length above zero"),
        ({"width_mm": 40}, "width_mm = 40; expected none"),
        ({"door_open": -1}, "door_open = -1.0+ s; expected zero or more"),
        ({"duration": 0}, "duration_s = 0.0+; expected"),
        ({"within_K": 0}, "within_K = 0.0+; expected"),
        ({"finer": 0}, "finer: expected one or more"),
        ({"power_W": 300}, r"power_W = 300.0+; expected more than the \d+"),
    ],
)
def test_loads_that_cannot_be(settings, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        drawn(**settings)


def test_wrong_types() -> None:
    with pytest.raises(TypeError, match=r"furnace = 3; expected a decalesce\.furnace\.Furnace"):
        dc.furnace.load(3, 820, BLANK, w="1084", length_mm=1)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match=r"piece = 6; expected a Section"):
        dc.furnace.load(BOX, 820, 6, w="1084", length_mm=1)
    with pytest.raises(TypeError, match=r"expected a Composition"):
        dc.furnace.load(BOX, 820, BLANK, length_mm=1)


def test_the_sheet(usual: dc.furnace.Loaded) -> None:
    for units, degree in (("metric", "°C"), ("shop", "°F")):
        sheet = dc.plots.furnace(usual, units=units)
        near, whole = sheet.axes
        assert near.get_ylabel() == degree
        (chamber,) = (line for line in whole.lines if line.get_gid() == "chamber")
        fall = usual.drop_K * (1.0 if units == "metric" else 1.8)
        assert np.max(chamber.get_ydata()) - np.min(chamber.get_ydata()) == pytest.approx(fall)
        said = " ".join(text.get_text() for axes in sheet.axes for text in axes.texts)
        assert f"{usual.steel_within_s / 60:.1f} min" in said
    with pytest.raises(TypeError, match=r"loaded = 1"):
        dc.plots.furnace(1)  # type: ignore[arg-type]
