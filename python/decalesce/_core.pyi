"""
Compiled core of decalesce. Private: use the functions of the package, which carry the documentation.
"""

from __future__ import annotations
import collections.abc
import numpy
import numpy.typing
import typing

__all__: list[str] = [
    "AsQuenched",
    "Austenite",
    "Composition",
    "ConductionPiece",
    "CriticalTemperatures",
    "CriticalTemperaturesBatch",
    "Estimate",
    "HeatUpResult",
    "History",
    "Material",
    "Mesh",
    "Section",
    "TemperTable",
    "ThermalSteel",
    "Trace",
    "Window",
    "arrest_check_sensor",
    "arrest_find",
    "arrest_findings",
    "arrest_sensor_verdicts",
    "austenite_carbon",
    "austenite_dissolve",
    "austenite_window",
    "biot_number",
    "conduction_fourier_at",
    "conduction_fourier_at_mean",
    "conduction_go_on",
    "conduction_heat",
    "conduction_heat_batch",
    "conduction_mean",
    "conduction_one_term",
    "conduction_term",
    "conduction_theta",
    "convert_hardness",
    "cooled_to_C",
    "critical_batch",
    "critical_ms",
    "critical_temperatures",
    "family_names",
    "flag_bit",
    "flag_level",
    "flag_names",
    "flag_sentences",
    "flag_table",
    "flagged",
    "formula_flags",
    "formula_values",
    "formulas",
    "furnace_contents",
    "furnace_kinds",
    "furnace_linings",
    "furnace_load",
    "furnace_longest_s",
    "furnace_loss",
    "furnace_piece_volume",
    "furnace_recovered_within_K",
    "furnace_steel_within_K",
    "half_martensite_hardness",
    "half_space_film",
    "half_space_film_time",
    "half_space_flux",
    "half_space_flux_time",
    "half_space_pulse",
    "half_space_pulse_time",
    "half_space_step",
    "half_space_step_depth",
    "half_space_step_time",
    "half_space_wave_amplitude",
    "half_space_wave_depth",
    "half_space_wave_lag",
    "heating_check",
    "heating_full_soak",
    "heating_heat_up",
    "heating_in_air",
    "heating_reference_C",
    "heating_soak",
    "heating_through",
    "kernels",
    "lumped_greatest_biot",
    "lumped_radiation_temperature",
    "lumped_radiation_time",
    "lumped_theta",
    "lumped_time",
    "martensite_hardness",
    "martensite_retained",
    "martensite_start",
    "ms_columns",
    "no_temper",
    "one_term_least_fourier",
    "open_share",
    "plan_one",
    "plan_rows",
    "published_estimate",
    "radiation_only_time",
    "series_least_fourier",
    "shape_names",
    "sine_face",
    "steady_temperature",
    "temper_carried",
    "temper_constant",
    "temper_equivalent_temperature",
    "temper_equivalent_time",
    "temper_hardness",
    "temper_hardness_rows",
    "temper_parameter",
    "temper_temperature_for",
    "thermal_constant",
    "thermal_families",
    "thermal_family",
    "thermal_film",
    "thermal_steel",
    "thermal_surroundings",
    "version",
    "what_limits",
    "window_reasons",
]

class Composition:
    """
    Chemistry of one steel, or of a batch of steels.

    Keywords are element symbols (C Mn Si Cr Ni Mo V W Cu Co Al Nb Ti N B P S As Sn), amounts in wt %, numbers or
    equal-shaped arrays; iron is the balance. An element left out, or None, is *not stated*: formulas read 0 and an answer that
    would move is flagged. NaN means unusable: NaN in, NaN out. `half_width` and `status` are dicts by element. Amounts are
    copied once, so that the value never changes.

    Raises ValueError for an amount outside 0 to 100 wt % or a sum above 100 in a single steel (in a batch such a row becomes
    NaN and is flagged), TypeError for anything that is not a number or has no name.
    """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getitem__(self, row: typing.SupportsInt | typing.SupportsIndex) -> Composition:
        """
        One steel of a batch (counted along the flattened shape).
        """
    def __getstate__(
        self,
    ) -> tuple[int, dict[typing.Any, typing.Any], dict[typing.Any, typing.Any], dict[typing.Any, typing.Any]]: ...
    def __hash__(self) -> int: ...
    def __init__(self, *args: typing.NoReturn, **kwargs: typing.Any) -> None: ...
    def __len__(self) -> int: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    @property
    def Al(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def As(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def B(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def C(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Co(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Cr(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Cu(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Mn(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Mo(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def N(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Nb(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Ni(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def P(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def S(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Si(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Sn(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def Ti(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def V(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def W(self) -> typing.Any:
        """
        Amount, wt %; 0 where not stated.
        """
    @property
    def amounts(self) -> dict[typing.Any, typing.Any]:
        """
        Amounts by element, wt %, of the elements that are stated.
        """
    @property
    def half_width(self) -> dict[typing.Any, typing.Any]:
        """
        Half-width of each amount that is not exact, wt %.
        """
    @property
    def shape(self) -> tuple[typing.Any, ...]:
        """
        Shape of the batch; () for one steel.
        """
    @property
    def status(self) -> dict[typing.Any, typing.Any]:
        """
        How each stated element became known: measured, below_limit or filled (codes 0, 1, 2 in a batch; 3 is not stated).
        """

class Estimate:
    """
    A number with its band, or equal-shaped arrays of them.

    `value`, `low`, `high` in `unit`; the band is a 90 % prediction band: it should hold nine of ten measurements on bars
    described as this one is. `flags` says what the answer has to say about itself, `parts` where the half-width comes from,
    `sources` which published sources it rests on (keys of the bibliography). There is no arithmetic on estimates: errors
    between stages are correlated; only the plan joins them.
    """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __float__(self) -> float: ...
    def __getstate__(self) -> tuple[typing.Any, ...]: ...
    def __hash__(self) -> int: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    def flagged(self, flag: str) -> typing.Any:
        """
        Whether the answer (each answer of a batch) carries the flag.
        """
    @property
    def flags(self) -> typing.Any:
        """
        Flag ids of one answer; for a batch the bits, which `decalesce.flags.names` spells out.
        """
    @property
    def high(self) -> typing.Any:
        """
        Upper end of the band.
        """
    @property
    def level(self) -> str:
        """
        The gravest level among the flags: note, caution or stop.
        """
    @property
    def low(self) -> typing.Any:
        """
        Lower end of the band.
        """
    @property
    def parts(self) -> dict[typing.Any, typing.Any]:
        """
        Half-widths from formula, composition, temperature, time and table; {} in a batch made without them.
        """
    @property
    def sources(self) -> tuple[typing.Any, ...]:
        """
        Keys of the bibliography.
        """
    @property
    def unit(self) -> str:
        """
        Unit of value, low, high and parts.
        """
    @property
    def value(self) -> typing.Any:
        """
        The value; NaN where there is none.
        """

class Section:
    """
    Shape of the piece that is heated and quenched.

    `shape` is plate, round, square, hexagon, rectangle, wedge or block. Lengths are numbers in mm, strings such as "4.8mm"
    and "3/16in", or pint quantities: the least thickness (diameter, across flats, spine), the width of a rectangle, block or
    wedge, the length of a block, the edge of a wedge.

    Raises ValueError for a shape or length that cannot be, TypeError for one that is no length, naming the argument.
    """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getstate__(self) -> tuple[int, str, float, float, float, float]: ...
    def __hash__(self) -> int: ...
    def __init__(
        self,
        shape: typing.Any,
        thickness_mm: typing.Any,
        width_mm: typing.Any = 0.0,
        length_mm: typing.Any = 0.0,
        edge_mm: typing.Any = 0.0,
        *args: typing.NoReturn,
        **kwargs: typing.NoReturn,
    ) -> None: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    @property
    def edge_mm(self) -> float: ...
    @property
    def length_mm(self) -> float: ...
    @property
    def shape(self) -> str: ...
    @property
    def thickness_mm(self) -> float:
        """
        Least thickness, diameter or spine.
        """
    @property
    def volume_to_surface_mm(self) -> float:
        """
        Volume over surface: what governs heating by film.
        """
    @property
    def width_mm(self) -> float: ...

class History:
    """
    True temperature (degC) against time (s), straight between points. Raises ValueError for times that do not increase, values that are not finite, or temperatures below absolute zero.
    """
    @staticmethod
    def hold(
        temperature_C: typing.SupportsFloat | typing.SupportsIndex, time_s: typing.SupportsFloat | typing.SupportsIndex
    ) -> History:
        """
        One temperature for a time.
        """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getstate__(self) -> tuple[int, numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]: ...
    def __hash__(self) -> int: ...
    def __init__(
        self,
        times_s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        temperatures_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    ) -> None: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    def at(self, time_s: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Temperature at a time; the end values hold outside.
        """
    def effective_temperature(self, activation_energy_kJ: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Steady temperature (degC) at which a process of this activation energy (kJ/mol) runs as far in the same time. Hotter than the mean of a swing, never hotter than its peak. Raises ValueError for an energy of zero or less. [Haynes1971]
        """
    def then(self, next: History) -> History:
        """
        This history followed by another.
        """
    @property
    def duration_s(self) -> float: ...
    @property
    def mean_C(self) -> float:
        """
        Mean over time.
        """
    @property
    def peak_C(self) -> float: ...
    @property
    def temperatures_C(self) -> numpy.typing.NDArray[numpy.float64]: ...
    @property
    def times_s(self) -> numpy.typing.NDArray[numpy.float64]: ...

class CriticalTemperatures:
    """
    Critical temperatures of one steel, degC, with 90 % prediction bands.
    """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getstate__(self) -> tuple[typing.Any, ...]: ...
    def __hash__(self) -> int: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    @property
    def ac1(self) -> Estimate: ...
    @property
    def ac3(self) -> Estimate: ...
    @property
    def acm(self) -> Estimate: ...
    @property
    def bs(self) -> Estimate: ...
    @property
    def family(self) -> str:
        """
        Family of the steel, from its composition.
        """
    @property
    def mf(self) -> Estimate: ...
    @property
    def ms(self) -> Estimate: ...

class CriticalTemperaturesBatch:
    """
    Critical temperatures of a batch of steels, degC, with 90 % prediction bands.
    """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getstate__(self) -> tuple[typing.Any, ...]: ...
    def __hash__(self) -> int: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    @property
    def ac1(self) -> Estimate: ...
    @property
    def ac3(self) -> Estimate: ...
    @property
    def acm(self) -> Estimate: ...
    @property
    def bs(self) -> Estimate: ...
    @property
    def family(self) -> typing.Any:
        """
        Number of the family of each steel; family_names spells it out.
        """
    @property
    def mf(self) -> Estimate: ...
    @property
    def ms(self) -> Estimate: ...

class Austenite:
    """
    The steel as it goes into the quench: what is in solution, what is left.

    `in_solution` is the composition of the austenite, not of the bar; `cementite_wt` and `alloy_carbide_wt` the carbide left
    (wt %); `grain_um` the grain size (NaN where not known); `carbon_half_width` how far the carbon in solution may be off
    (wt %); `made` how it was made. Make one with `decalesce.austenite.dissolve(w, decalesce.hold(temperature, time))`, or with
    `Austenite.all_dissolved(w)` where everything is in solution. Of a batch of steels the properties are arrays.
    """
    @staticmethod
    def all_dissolved(w: Composition, grain_um: typing.SupportsFloat | typing.SupportsIndex = ...) -> Austenite:
        """
        Everything the bar holds is in solution: true above A3 or Acm, or as an upper bound.
        """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getstate__(self) -> tuple[typing.Any, ...]: ...
    def __hash__(self) -> int: ...
    def __init__(
        self,
        in_solution: Composition,
        cementite_wt: typing.SupportsFloat | typing.SupportsIndex = 0.0,
        alloy_carbide_wt: typing.SupportsFloat | typing.SupportsIndex = 0.0,
        grain_um: typing.SupportsFloat | typing.SupportsIndex = ...,
        carbon_half_width: typing.SupportsFloat | typing.SupportsIndex = 0.0,
        made: str = "all_dissolved",
    ) -> None: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    @property
    def alloy_carbide_wt(self) -> typing.Any:
        """
        Alloy carbide left, wt %.
        """
    @property
    def carbon_half_width(self) -> typing.Any:
        """
        Half-width of the carbon in solution, wt %.
        """
    @property
    def cementite_wt(self) -> typing.Any:
        """
        Cementite left, wt %.
        """
    @property
    def grain_um(self) -> typing.Any:
        """
        Grain size, micrometres; NaN where not known.
        """
    @property
    def in_solution(self) -> Composition:
        """
        Composition of the austenite.
        """
    @property
    def made(self) -> typing.Any:
        """
        How it was made.
        """
    @property
    def shape(self) -> tuple[typing.Any, ...]:
        """
        Shape of the batch; () for one steel.
        """

class AsQuenched:
    """
    The steel as it comes out of the quench.

    `hardness_HRC`, `martensite` and `retained_austenite` (fractions of the whole) are Estimates; `austenite` is what went into
    the quench; `is_measured` tells a reading from a computed hardness. Make one with `AsQuenched.fully_hardened(austenite)`
    or, better, with `AsQuenched.measured(64.5, austenite)`.
    """
    @staticmethod
    def fully_hardened(
        austenite: typing.Any, cooled_to_C: typing.SupportsFloat | typing.SupportsIndex = 20.0
    ) -> AsQuenched:
        """
        Hardened fully, no pearlite and no bainite, cooled to a temperature (degC).

        Hardness from the carbon in solution (wt %), valid from 0.10 %C: ASTM A255 up to 0.70 %C, one ceiling of 66 HRC above, less
        what much retained austenite takes. Band 2.5 HRC, 1.4 on the ceiling, plus what the carbon leaves open. Above 1.7 %Cr in
        solution the retained austenite is NaN, flagged `no_model`. NaN in, NaN out. Raises TypeError for a bar's composition.
        """
    @staticmethod
    def measured(
        hrc: typing.SupportsFloat | typing.SupportsIndex,
        austenite: typing.Any,
        reading_half_width_HRC: typing.SupportsFloat | typing.SupportsIndex = 1.0,
    ) -> AsQuenched:
        """
        Hardness as read on the quenched piece, HRC, with the error of a good reading (1 HRC) unless another is given.

        Raises ValueError for a reading off the Rockwell C scale (20 to 70), TypeError for a bar's composition.
        """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getstate__(self) -> tuple[int, Austenite, Estimate, Estimate, Estimate, bool]: ...
    def __hash__(self) -> int: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    @property
    def austenite(self) -> Austenite:
        """
        What went into the quench.
        """
    @property
    def hardness_HRC(self) -> Estimate:
        """
        As-quenched hardness, HRC.
        """
    @property
    def is_measured(self) -> bool:
        """
        Whether the hardness was read.
        """
    @property
    def martensite(self) -> Estimate:
        """
        Martensite, fraction of the whole.
        """
    @property
    def retained_austenite(self) -> Estimate:
        """
        Retained austenite, fraction of the whole.
        """
    @property
    def shape(self) -> tuple[typing.Any, ...]:
        """
        Shape of the batch; () for one steel.
        """

class Material:
    """
    Thermal properties as the solver takes them.
    """
    @staticmethod
    def constant(
        conductivity_W_mK: typing.SupportsFloat | typing.SupportsIndex,
        heat_capacity_J_kgK: typing.SupportsFloat | typing.SupportsIndex,
        density_kg_m3: typing.SupportsFloat | typing.SupportsIndex,
    ) -> Material:
        """
        Constant properties.
        """
    def __init__(
        self,
        temperature_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        enthalpy_J_kg: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        conductivity_W_mK: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        density_kg_m3: typing.SupportsFloat | typing.SupportsIndex,
    ) -> None:
        """
        From tables against increasing temperature; beyond their ends the end slopes go on.
        """
    def __repr__(self) -> str: ...
    def conductivity_W_mK(self, temperature_C: typing.Any) -> typing.Any: ...
    def enthalpy_J_kg(self, temperature_C: typing.Any) -> typing.Any: ...
    @property
    def coolest_C(self) -> float: ...
    @property
    def density_kg_m3(self) -> float: ...
    @property
    def hottest_C(self) -> float: ...

class Mesh:
    """
    A body cut into control volumes.
    """
    @staticmethod
    def of(
        section: Section,
        cells: typing.SupportsInt | typing.SupportsIndex = 0,
        *,
        above: typing.SupportsFloat | typing.SupportsIndex = 1.0,
        below: typing.SupportsFloat | typing.SupportsIndex = 1.0,
        sides: typing.SupportsFloat | typing.SupportsIndex = 1.0,
        ends: typing.SupportsFloat | typing.SupportsIndex = 1.0,
    ) -> Mesh: ...
    def __init__(
        self,
        shape: str,
        thickness_mm: typing.SupportsFloat | typing.SupportsIndex,
        width_mm: typing.SupportsFloat | typing.SupportsIndex = 0.0,
        length_mm: typing.SupportsFloat | typing.SupportsIndex = 0.0,
        edge_mm: typing.SupportsFloat | typing.SupportsIndex = 0.0,
        cells: typing.SupportsInt | typing.SupportsIndex = 40,
        *,
        above: typing.SupportsFloat | typing.SupportsIndex = 1.0,
        below: typing.SupportsFloat | typing.SupportsIndex = 1.0,
        sides: typing.SupportsFloat | typing.SupportsIndex = 1.0,
        ends: typing.SupportsFloat | typing.SupportsIndex = 1.0,
    ) -> None: ...
    def __repr__(self) -> str: ...
    @property
    def centre(self) -> int: ...
    @property
    def half_thickness_mm(self) -> float: ...
    @property
    def points(self) -> int: ...
    @property
    def position_mm(self) -> numpy.typing.NDArray[numpy.float64]: ...
    @property
    def surface(self) -> int: ...
    @property
    def volume_to_surface_mm(self) -> float: ...

class Trace:
    """
    Temperatures of a body along time.
    """
    def __repr__(self) -> str: ...
    def centre_C(self, time_s: typing.Any) -> typing.Any: ...
    def coolest_C(self, time_s: typing.Any) -> typing.Any: ...
    def field_C(self, time_s: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]: ...
    def hottest_C(self, time_s: typing.Any) -> typing.Any: ...
    def largest_difference(self) -> tuple[float, float]: ...
    def mean_C(self, time_s: typing.Any) -> typing.Any: ...
    def surface_C(self, time_s: typing.Any) -> typing.Any: ...
    def temperature_C(self, time_s: typing.Any, point: typing.SupportsInt | typing.SupportsIndex) -> typing.Any: ...
    def time_to_s(
        self,
        temperature_C: typing.SupportsFloat | typing.SupportsIndex,
        point: typing.SupportsInt | typing.SupportsIndex,
    ) -> float: ...
    def time_within_s(
        self,
        temperature_C: typing.SupportsFloat | typing.SupportsIndex,
        within_K: typing.SupportsFloat | typing.SupportsIndex,
    ) -> float: ...
    @property
    def end_s(self) -> float: ...
    @property
    def enthalpy_gained_J(self) -> float: ...
    @property
    def heat_in_J(self) -> float: ...
    @property
    def material(self) -> Material: ...
    @property
    def mesh(self) -> Mesh: ...
    @property
    def rejected(self) -> int: ...
    @property
    def steps(self) -> int: ...
    @property
    def times_s(self) -> numpy.typing.NDArray[numpy.float64]: ...

class ConductionPiece:
    """
    A piece heated or cooled all round, by products of series; lengths m.
    """
    def __init__(
        self,
        directions: collections.abc.Sequence[tuple[str, typing.SupportsFloat | typing.SupportsIndex]],
        semi_infinite: bool,
        film: typing.SupportsFloat | typing.SupportsIndex,
        conductivity: typing.SupportsFloat | typing.SupportsIndex,
        diffusivity: typing.SupportsFloat | typing.SupportsIndex,
    ) -> None: ...
    def biot(self, direction: typing.SupportsInt | typing.SupportsIndex) -> float: ...
    def mean(self, time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any: ...
    def theta(
        self,
        time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        x: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        y: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        z: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    ) -> typing.Any: ...
    def time_to(
        self,
        theta: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        x: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        y: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
        z: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    ) -> typing.Any: ...
    def time_to_mean(self, mean: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> typing.Any: ...

class ThermalSteel:
    """
    Thermal properties of one steel against temperature.
    """
    def __repr__(self) -> str: ...
    def conductivity_at(
        self, temperature_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]
    ) -> numpy.typing.NDArray[numpy.float64]:
        """
        W/mK; shape in, shape out.
        """
    def enthalpy_at(
        self, temperature_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]
    ) -> numpy.typing.NDArray[numpy.float64]:
        """
        J/kg from cold steel of 20 degC; shape in, shape out.
        """
    def heat_capacity_at(
        self, temperature_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]
    ) -> numpy.typing.NDArray[numpy.float64]:
        """
        J/kgK; shape in, shape out.
        """
    @property
    def Ac1_C(self) -> float: ...
    @property
    def conductivity_W_mK(self) -> numpy.ndarray: ...
    @property
    def conductivity_half_width(self) -> float: ...
    @property
    def density_half_width(self) -> float: ...
    @property
    def density_kg_m3(self) -> float: ...
    @property
    def end_C(self) -> float: ...
    @property
    def enthalpy_J_kg(self) -> numpy.ndarray: ...
    @property
    def enthalpy_half_width(self) -> float: ...
    @property
    def family(self) -> str: ...
    @property
    def flags(self) -> tuple[typing.Any, ...]: ...
    @property
    def high_C(self) -> float: ...
    @property
    def low_C(self) -> float: ...
    @property
    def sources(self) -> tuple[typing.Any, ...]: ...
    @property
    def temperature_C(self) -> numpy.ndarray: ...
    @property
    def transformation_J_kg(self) -> float: ...

class HeatUpResult:
    """
    A computed heat-up.
    """
    @property
    def Ac1_C(self) -> float: ...
    @property
    def biot(self) -> float: ...
    @property
    def causes(self) -> dict[typing.Any, typing.Any]: ...
    @property
    def difference_K(self) -> float: ...
    @property
    def difference_K_mm(self) -> float: ...
    @property
    def difference_s(self) -> float: ...
    @property
    def equalize_s(self) -> Estimate: ...
    @property
    def flags(self) -> tuple[typing.Any, ...]: ...
    @property
    def rate_K_min(self) -> float: ...
    @property
    def set_point_C(self) -> float: ...
    @property
    def surface_s(self) -> Estimate: ...
    @property
    def through_s(self) -> Estimate: ...
    @property
    def trace(self) -> Trace | None: ...

class Window:
    """
    Austenitizing temperatures of a steel: `coolest`, `aim` and `hottest`, degC.

    Each is an Estimate; `reasons` are the ids of why the window lies there and `sentences` spells them out. Of a batch the
    properties are arrays in its shape.
    """
    def __eq__(self, arg0: typing.Any) -> bool: ...
    def __getstate__(self) -> tuple[int, Estimate, Estimate, Estimate, list[int]]: ...
    def __hash__(self) -> int: ...
    def __repr__(self) -> str: ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None: ...
    @property
    def aim(self) -> Estimate:
        """
        Temperature to set, degC.
        """
    @property
    def coolest(self) -> Estimate:
        """
        Recommended low end, degC.
        """
    @property
    def detail(self) -> str:
        """
        How deep the answer was computed.
        """
    @property
    def hottest(self) -> Estimate:
        """
        Recommended high end, degC.
        """
    @property
    def reasons(self) -> typing.Any:
        """
        Ids of the reasons; of a batch one tuple[typing.Any, ...] a steel.
        """
    @property
    def sentences(self) -> dict[typing.Any, typing.Any]:
        """
        Sentence of each reason, by id.
        """

class TemperTable:
    """
    A published table of hardness against temper.
    """
    def __init__(
        self,
        temperatures_C: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex],
        times_s: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex],
        hardness_HRC: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex],
        source: str,
    ) -> None: ...
    def after(self, parameter: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> Estimate:
        """
        Hardness at a temper parameter with constant 20.
        """
    def tempers_for(
        self,
        target_HRC: typing.SupportsFloat | typing.SupportsIndex,
        total_s: typing.SupportsFloat | typing.SupportsIndex,
        coolest_C: typing.SupportsFloat | typing.SupportsIndex,
        hottest_C: typing.SupportsFloat | typing.SupportsIndex,
    ) -> list[typing.Any]:
        """
        Tempers that leave the target, coolest first, each with why its band ends where it does.
        """
    @property
    def hardest_HRC(self) -> float:
        """
        Hardest printed value.
        """
    @property
    def softest_HRC(self) -> float:
        """
        Softest printed value.
        """

def arrest_check_sensor(
    found: bool, cooling: bool, start: Estimate, flag_bits: typing.SupportsInt | typing.SupportsIndex, ac1: Estimate
) -> tuple[str, Estimate]:
    """
    (verdict, bias K).
    """

def arrest_find(
    times_s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    work_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    furnace_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    cooling: bool,
    low_C: typing.SupportsFloat | typing.SupportsIndex,
    high_C: typing.SupportsFloat | typing.SupportsIndex,
) -> dict[typing.Any, typing.Any]:
    """
    The arrest of a trace; an empty furnace trace stands for none, NaN for the usual range.
    """

def austenite_carbon(
    w: Composition,
    temperature_C: typing.SupportsFloat | typing.SupportsIndex,
    soak_s: typing.SupportsFloat | typing.SupportsIndex,
) -> Estimate:
    """
    Carbon in solution, wt %.
    """

def austenite_dissolve(w: Composition, history: History) -> Austenite:
    """
    What is in solution after a history.
    """

def austenite_window(w: Composition) -> Window:
    """
    Austenitizing window.
    """

def biot_number(
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    length: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    conductivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def conduction_fourier_at(
    body: str,
    biot: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    theta: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    position: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any:
    """
    Fourier number at which this share is left.
    """

def conduction_fourier_at_mean(
    body: str,
    biot: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    mean: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any:
    """
    Fourier number at which this share is left in the mean.
    """

def conduction_go_on(
    before: Trace,
    material: Material,
    temperature: History,
    film_W_m2K: typing.SupportsFloat | typing.SupportsIndex,
    emissivity: typing.SupportsFloat | typing.SupportsIndex,
    tolerance_K: typing.SupportsFloat | typing.SupportsIndex,
) -> Trace: ...
def conduction_heat(
    material: Material,
    mesh: Mesh,
    temperature: History,
    film_W_m2K: typing.SupportsFloat | typing.SupportsIndex,
    emissivity: typing.SupportsFloat | typing.SupportsIndex,
    start_C: typing.SupportsFloat | typing.SupportsIndex,
    tolerance_K: typing.SupportsFloat | typing.SupportsIndex,
) -> Trace: ...
def conduction_heat_batch(
    materials: collections.abc.Sequence[Material],
    meshes: collections.abc.Sequence[Mesh],
    temperatures: collections.abc.Sequence[History],
    film_W_m2K: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    emissivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    start_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    within_K: typing.SupportsFloat | typing.SupportsIndex,
    tolerance_K: typing.SupportsFloat | typing.SupportsIndex,
    stop_within: bool,
) -> dict[typing.Any, typing.Any]: ...
def conduction_mean(
    body: str,
    biot: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    fourier: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any:
    """
    Mean temperature left, as a share.
    """

def conduction_one_term(
    body: str,
    biot: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    fourier: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    position: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> tuple[typing.Any, typing.Any]:
    """
    (temperature left by one term, 1 where that is not enough).
    """

def conduction_term(
    body: str,
    biot: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    n: typing.SupportsInt | typing.SupportsIndex,
) -> tuple[typing.Any, typing.Any]:
    """
    (zeta_n, C_n) of the series, n from 0.
    """

def conduction_theta(
    body: str,
    biot: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    fourier: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    position: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any:
    """
    Temperature left, as a share.
    """

def convert_hardness(
    value: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], from_scale: str, to_scale: str, table: str
) -> Estimate:
    """
    One hardness scale to another.
    """

def critical_batch(
    composition: Composition, with_parts: bool = False, kernel: str = "fastest"
) -> CriticalTemperaturesBatch:
    """
    Critical temperatures of a batch of steels.
    """

def critical_ms(composition: Composition) -> Estimate:
    """
    Joined Ms of one steel.
    """

def critical_temperatures(composition: Composition) -> CriticalTemperatures:
    """
    Critical temperatures of one steel.
    """

def flag_bit(flag: str) -> int:
    """
    The bit of a flag.
    """

def flag_level(bits: typing.SupportsInt | typing.SupportsIndex) -> str:
    """
    Gravest level in a set of bits.
    """

def flag_names(bits: typing.SupportsInt | typing.SupportsIndex) -> tuple[typing.Any, ...]:
    """
    Ids of the flags in a set of bits.
    """

def flag_sentences(bits: typing.SupportsInt | typing.SupportsIndex) -> dict[typing.Any, typing.Any]:
    """
    Sentence of each flag in a set of bits.
    """

def flag_table() -> list[typing.Any]:
    """
    Every flag with its level and sentence.
    """

def flagged(estimate: Estimate, flag: str) -> Estimate:
    """
    The estimate of one answer with a flag more.
    """

def formula_flags(
    formula: str,
    composition: Composition,
    thickness_mm: typing.SupportsFloat | typing.SupportsIndex = ...,
    grain_um: typing.SupportsFloat | typing.SupportsIndex = ...,
    Ms: typing.SupportsFloat | typing.SupportsIndex = ...,
    Bs: typing.SupportsFloat | typing.SupportsIndex = ...,
    rate_per_K: typing.SupportsFloat | typing.SupportsIndex = ...,
) -> typing.Any:
    """
    Flag bits of the same answer.
    """

@typing.overload
def formula_values(formula: str, composition: Composition) -> typing.Any:
    """
    Answer of one formula, degC (1/K for a rate).
    """

@typing.overload
def formula_values(
    formula: str,
    composition: Composition,
    thickness_mm: typing.SupportsFloat | typing.SupportsIndex = ...,
    grain_um: typing.SupportsFloat | typing.SupportsIndex = ...,
    Ms: typing.SupportsFloat | typing.SupportsIndex = ...,
    Bs: typing.SupportsFloat | typing.SupportsIndex = ...,
    rate_per_K: typing.SupportsFloat | typing.SupportsIndex = ...,
    kernel: str = "fastest",
) -> typing.Any:
    """
    Answer of one formula, degC (1/K for a rate).
    """

def formulas() -> list[typing.Any]:
    """
    Record of every formula, in the order of the catalogue.
    """

def furnace_contents(
    inside_mm: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(3)"],
    power_W: typing.SupportsFloat | typing.SupportsIndex,
    elements: bool,
) -> float:
    """
    J/K of shelf and elements.
    """

def furnace_load(
    inside_mm: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(3)"],
    lining: str,
    lining_mm: typing.SupportsFloat | typing.SupportsIndex,
    power_W: typing.SupportsFloat | typing.SupportsIndex,
    contents_J_K: typing.SupportsFloat | typing.SupportsIndex,
    room_C: typing.SupportsFloat | typing.SupportsIndex,
    film_W_m2K: typing.SupportsFloat | typing.SupportsIndex,
    emissivity: typing.SupportsFloat | typing.SupportsIndex,
    material: Material,
    section: Section,
    length_mm: typing.SupportsFloat | typing.SupportsIndex,
    pieces: typing.SupportsInt | typing.SupportsIndex,
    gap_mm: typing.SupportsFloat | typing.SupportsIndex,
    cells: typing.SupportsInt | typing.SupportsIndex,
    start_C: typing.SupportsFloat | typing.SupportsIndex,
    door_open_s: typing.SupportsFloat | typing.SupportsIndex,
    door_switch: bool,
    set_point_C: typing.SupportsFloat | typing.SupportsIndex,
    duration_s: typing.SupportsFloat | typing.SupportsIndex,
    within_K: typing.SupportsFloat | typing.SupportsIndex,
    finer: typing.SupportsInt | typing.SupportsIndex,
) -> dict[typing.Any, typing.Any]:
    """
    The parts of an answer, by name.
    """

def furnace_loss(
    inside_mm: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(3)"],
    lining: str,
    lining_mm: typing.SupportsFloat | typing.SupportsIndex,
    room_C: typing.SupportsFloat | typing.SupportsIndex,
    chamber_C: typing.SupportsFloat | typing.SupportsIndex,
) -> tuple[float, int]:
    """
    W at rest, and flags.
    """

def furnace_piece_volume(section: Section, length_mm: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    m3.
    """

def half_martensite_hardness(
    carbon_wt: typing.Any, half_width: typing.SupportsFloat | typing.SupportsIndex
) -> Estimate:
    """
    Hardness of 50 % martensite, HRC.
    """

def half_space_film(
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    conductivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_film_time(
    share: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    conductivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_flux(
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    flux: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    conductivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_flux_time(
    rise: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    flux: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    conductivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_pulse(
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    energy: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    volumetric_heat: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_pulse_time(
    rise: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    energy: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    volumetric_heat: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_step(
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_step_depth(
    share: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_step_time(
    share: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_wave_amplitude(
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    period: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_wave_depth(
    share: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    period: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def half_space_wave_lag(
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    period: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def heating_check(
    time_s: typing.SupportsFloat | typing.SupportsIndex, heat_up: Estimate, equalize: Estimate, hold: Estimate
) -> str:
    """
    A time against what is due.
    """

def heating_full_soak(
    section: Section, w: Composition, furnace: typing.SupportsInt | typing.SupportsIndex, heat_up: HeatUpResult
) -> tuple[Estimate, Estimate, Estimate]:
    """
    (heat-up, equalize, hold), s.
    """

def heating_heat_up(
    section: Section,
    w: Composition,
    furnace: str,
    ranges: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(6)"]
    | None,
    history: History,
    set_point_C: typing.SupportsFloat | typing.SupportsIndex,
    start_C: typing.SupportsFloat | typing.SupportsIndex,
    within_K: typing.SupportsFloat | typing.SupportsIndex,
    exposure: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(4)"],
    tolerance_K: typing.SupportsFloat | typing.SupportsIndex,
    cells: typing.SupportsInt | typing.SupportsIndex,
) -> HeatUpResult:
    """
    A heat-up along a history of the furnace.
    """

def heating_in_air(
    section: Section,
    w: Composition,
    from_C: typing.SupportsFloat | typing.SupportsIndex,
    to_C: typing.SupportsFloat | typing.SupportsIndex,
    room_C: typing.SupportsFloat | typing.SupportsIndex,
    ranges: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(6)"]
    | None,
    exposure: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(4)"],
) -> tuple[Estimate, Estimate, dict[typing.Any, typing.Any], float, typing.Any, tuple[typing.Any, ...]]:
    """
    (first there, last there, causes, to_C, trace, flags).
    """

def heating_soak(
    section: Section, w: Composition, furnace: str, set_point_C: typing.SupportsFloat | typing.SupportsIndex
) -> tuple[Estimate, Estimate, Estimate, typing.Any, tuple[float, float], list[typing.Any]]:
    """
    (heat-up, equalize, hold, id of the hold's rule, preheat range, rules beside).
    """

def heating_through(
    section: Section, furnace: str, set_point_C: typing.SupportsFloat | typing.SupportsIndex
) -> Estimate:
    """
    Heat-up time, s.
    """

def kernels() -> list[typing.Any]:
    """
    The batch kernels this processor can run.
    """

def lumped_radiation_temperature(
    start: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    length: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    volumetric_heat: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    gas: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    emissivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    walls: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def lumped_radiation_time(
    start: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    target: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    length: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    volumetric_heat: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    gas: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    emissivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    walls: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def lumped_theta(
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    length: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    volumetric_heat: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def lumped_time(
    theta: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    length: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    volumetric_heat: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def martensite_hardness(carbon_wt: typing.Any, half_width: typing.SupportsFloat | typing.SupportsIndex) -> Estimate:
    """
    Hardness of full martensite, HRC.
    """

def martensite_retained(a: typing.Any, cooled_to_C: typing.SupportsFloat | typing.SupportsIndex) -> Estimate:
    """
    Retained austenite, fraction of the whole.
    """

def martensite_start(a: typing.Any) -> Estimate:
    """
    Martensite start, degC.
    """

def ms_columns(
    composition: Composition, grain_um: typing.SupportsFloat | typing.SupportsIndex = ..., kernel: str = "fastest"
) -> dict[typing.Any, typing.Any]:
    """
    Every Ms formula, a column each.
    """

def no_temper(flag: str) -> Estimate:
    """
    A temper that does not exist, with the flag that says why.
    """

def open_share(
    gap_mm: typing.SupportsFloat | typing.SupportsIndex, depth_mm: typing.SupportsFloat | typing.SupportsIndex
) -> float:
    """
    Of a face that looks at its like.
    """

def plan_one(
    w: Composition,
    section: typing.Any,
    furnace: str,
    target_HRC: typing.SupportsFloat | typing.SupportsIndex,
    temper_time_s: typing.SupportsFloat | typing.SupportsIndex,
    tempers: typing.SupportsInt | typing.SupportsIndex,
    published_coolest_C: typing.SupportsFloat | typing.SupportsIndex,
    published_hottest_C: typing.SupportsFloat | typing.SupportsIndex,
    air_hardening: bool,
    embrittles_back: bool,
    standing: typing.SupportsInt | typing.SupportsIndex,
) -> dict[typing.Any, typing.Any]:
    """
    The plan of one bar, by name.
    """

def plan_rows(
    w: Composition,
    shape: typing.Annotated[numpy.typing.ArrayLike, numpy.uint8],
    thickness_mm: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    width_mm: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    length_mm: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    target_HRC: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    tempers: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    published_coolest_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    published_hottest_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    air_hardening: typing.Annotated[numpy.typing.ArrayLike, numpy.uint8],
    embrittles_back: typing.Annotated[numpy.typing.ArrayLike, numpy.uint8],
    standing: typing.Annotated[numpy.typing.ArrayLike, numpy.uint8],
    furnace: str,
    temper_time_s: typing.SupportsFloat | typing.SupportsIndex,
) -> dict[typing.Any, typing.Any]:
    """
    The plans of a rack, a column each.
    """

def published_estimate(
    value: typing.SupportsFloat | typing.SupportsIndex,
    low: typing.SupportsFloat | typing.SupportsIndex,
    high: typing.SupportsFloat | typing.SupportsIndex,
    unit: str,
    flag: str,
    source: str,
) -> Estimate:
    """
    A published figure with its band and one flag.
    """

def radiation_only_time(
    start: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    target: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    length: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    volumetric_heat: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    emissivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    walls: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def sine_face(
    depth: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    thickness: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    period: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    diffusivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def steady_temperature(
    film: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    gas: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    emissivity: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    walls: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any: ...
def temper_carried(
    histories: collections.abc.Sequence[History], constant_hours: typing.SupportsFloat | typing.SupportsIndex
) -> tuple[typing.Any, ...]:
    """
    Parameter, total time (s), peak and mean (degC) of histories one after the other.
    """

def temper_constant(rule: str, carbon: typing.SupportsFloat | typing.SupportsIndex) -> dict[typing.Any, typing.Any]:
    """
    A published constant for hours.
    """

def temper_equivalent_temperature(
    parameter: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time_s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    constant_hours: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any:
    """
    Temperature with this parameter in a time, degC.
    """

def temper_equivalent_time(
    parameter: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    temperature_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    constant_hours: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any:
    """
    Time with this parameter at a temperature, s.
    """

def temper_hardness(
    as_quenched: AsQuenched,
    steel_row: typing.Annotated[numpy.typing.ArrayLike, numpy.int64],
    P18: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    peak_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    total_s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    scale: str,
    temperature_half_width_K: typing.SupportsFloat | typing.SupportsIndex,
) -> Estimate:
    """
    Hardness after a temper.
    """

def temper_hardness_rows(
    in_solution: Composition,
    as_quenched_HRC: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    steel_row: typing.Annotated[numpy.typing.ArrayLike, numpy.int64],
    temperature_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time_s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    scale: str,
    temperature_half_width_K: typing.SupportsFloat | typing.SupportsIndex,
) -> Estimate:
    """
    Hardness after a temper, from columns.
    """

def temper_parameter(
    temperature_C: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    time_s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    constant_hours: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
) -> typing.Any:
    """
    Temper parameter of holds, thousand kelvin.
    """

def temper_temperature_for(
    as_quenched: AsQuenched,
    steel_row: typing.Annotated[numpy.typing.ArrayLike, numpy.int64],
    target_HRC: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    total_s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64],
    embrittles_back: bool,
) -> dict[typing.Any, typing.Any]:
    """
    The temper for a wanted hardness.
    """

def thermal_constant(
    conductivity_W_mK: typing.SupportsFloat | typing.SupportsIndex,
    heat_capacity_J_kgK: typing.SupportsFloat | typing.SupportsIndex,
    density_kg_m3: typing.SupportsFloat | typing.SupportsIndex,
) -> ThermalSteel:
    """
    Constant properties.
    """

def thermal_family(
    name: str,
    direction: str,
    Ac1_C: typing.SupportsFloat | typing.SupportsIndex,
    end_C: typing.SupportsFloat | typing.SupportsIndex,
    carbon_wt_pct: typing.SupportsFloat | typing.SupportsIndex = ...,
    eutectoid_wt_pct: typing.SupportsFloat | typing.SupportsIndex = ...,
) -> ThermalSteel:
    """
    Of a family or a reference case.
    """

def thermal_film(
    furnace: str,
) -> tuple[str, tuple[typing.Any, ...], bool, tuple[typing.Any, ...], tuple[typing.Any, ...], tuple[typing.Any, ...]]:
    """
    (name, film low/value/high, radiates, emissivity low/value/high, flags, sources).
    """

def thermal_steel(
    w: Composition,
    direction: str,
    Ac1_C: typing.SupportsFloat | typing.SupportsIndex,
    end_C: typing.SupportsFloat | typing.SupportsIndex,
) -> ThermalSteel:
    """
    Of a composition.
    """

def what_limits(biot: typing.SupportsFloat | typing.SupportsIndex) -> tuple[str, str]:
    """
    (film, both, conduction or unknown; the sentence).
    """

arrest_findings: tuple[typing.Any, ...] = (
    "arrest",
    "no_arrest",
    "too_fast",
    "too_noisy",
    "not_reached",
    "controller_hold",
)
arrest_sensor_verdicts: tuple[typing.Any, ...] = ("agrees", "reads_high", "reads_low", "not_checked")
cooled_to_C: dict[typing.Any, typing.Any] = {
    "room": 20.0,
    "freezer": -18.0,
    "dry_ice": -75.0,
    "liquid_nitrogen": -196.0,
}
family_names: tuple[typing.Any, ...] = (
    "plain_hypo",
    "plain_hyper",
    "low_alloy",
    "hyper_low_alloy",
    "silicon_spring",
    "tool_3_5_cr",
    "tool_11_13_cr",
    "martensitic_stainless",
    "high_speed",
    "austenitic_other",
)
furnace_kinds: tuple[typing.Any, ...] = ("still_electric", "forced_air", "gas_fired", "neutral_salt", "fluidized_bed")
furnace_linings: tuple[typing.Any, ...] = (
    "insulating_firebrick",
    "insulating_firebrick_heavy",
    "fibre_blanket_64",
    "fibre_blanket_96",
    "fibre_blanket_128",
    "soluble_fibre_blanket_128",
)
furnace_longest_s: float = 172800.0
furnace_recovered_within_K: float = 5.0
furnace_steel_within_K: float = 10.0
heating_reference_C: float = 850.0
lumped_greatest_biot: float = 0.1
one_term_least_fourier: float = 0.2
series_least_fourier: float = 1e-06
shape_names: tuple[typing.Any, ...] = ("plate", "round", "square", "hexagon", "rectangle", "wedge", "block")
thermal_families: tuple[typing.Any, ...] = (
    "plain_hypo",
    "plain_hyper",
    "low_alloy",
    "hyper_low_alloy",
    "silicon_spring",
    "tool_3_5_cr",
    "tool_11_13_cr",
    "martensitic_stainless",
    "high_speed",
    "austenitic_other",
)
thermal_surroundings: tuple[typing.Any, ...] = (
    "still_electric",
    "forced_air",
    "gas_fired",
    "neutral_salt",
    "fluidized_bed",
    "foil_wrapped",
    "still_air",
)
version: str = "0.1.0"
window_reasons: tuple[typing.Any, ...] = (
    "The aim lies above Ac3, where the last ferrite goes.",
    "The aim lies far enough above Ac1 that pearlite turns to austenite in minutes and evenly.",
    "All carbon goes into solution: the aim lies above Acm, where the last cementite goes.",
    "Some cementite is kept on purpose: more carbon in solution would retain austenite and let the grain grow.",
    "No rule from composition is safe for this steel; use the grade's published hardening temperature.",
)
