#include "composition_type.hpp"

#include <pybind11/stl.h>
#include <pybind11/typing.h>

#include <cmath>
#include <sstream>

namespace bindings {

using namespace decalesce;

namespace {
constexpr int pickle_version = 1;
}  // namespace

Composition PyComposition::row(std::size_t i) const {
  if (is_one()) return one;
  Composition c = one;
  for (std::size_t k = 0; k < element_count; ++k) {
    if (columns->amount[k]) c.amount[static_cast<Element>(k)] = (*columns->amount[k])[i];
    if (columns->stated[k]) c.stated[k] = static_cast<Stated>((*columns->stated[k])[i]);
    if (columns->half_width[k]) c.half_width[k] = (*columns->half_width[k])[i];
  }
  return c;
}

void PyComposition::fill(kernels::Inputs& in) const {
  in.rows = rows();
  for (std::size_t k = 0; k < element_count; ++k) {
    const bool varies = !is_one() && columns->amount[k] != nullptr;
    const double same = one.amount[static_cast<Element>(k)];
    in.composition[k] = {varies ? columns->amount[k]->data() : nullptr, same};
  }
}

void PyComposition::fill(kernels::Doubt& doubt) const {
  for (std::size_t k = 0; k < element_count; ++k) {
    const bool width_varies = !is_one() && columns->half_width[k] != nullptr;
    doubt.half_width[k] = {width_varies ? columns->half_width[k]->data() : nullptr, one.half_width[k]};
    const bool stated_varies = !is_one() && columns->stated[k] != nullptr;
    doubt.stated[k] = {stated_varies ? columns->stated[k]->data() : nullptr, static_cast<std::uint8_t>(one.stated[k])};
  }
}

namespace {

py::object amount_of(const PyComposition& c, std::size_t k) {
  if (c.is_one()) return py::float_(c.one.amount[static_cast<Element>(k)]);
  Doubles out(c.columns->shape);
  for (std::size_t i = 0; i < c.rows(); ++i)
    out.mutable_data()[i] = c.columns->amount[k] ? (*c.columns->amount[k])[i] : c.one.amount[static_cast<Element>(k)];
  return out;
}

py::object half_of(const PyComposition& c, std::size_t k) {
  if (c.is_one() || !c.columns->half_width[k]) return py::float_(c.one.half_width[k]);
  Doubles out(c.columns->shape);
  std::copy(c.columns->half_width[k]->begin(), c.columns->half_width[k]->end(), out.mutable_data());
  return out;
}

py::object status_of(const PyComposition& c, std::size_t k) {
  if (c.is_one() || !c.columns->stated[k])
    return py::str(std::string(stated_names[static_cast<std::size_t>(c.one.stated[k])]));
  Bytes out(c.columns->shape);
  std::copy(c.columns->stated[k]->begin(), c.columns->stated[k]->end(), out.mutable_data());
  return out;
}

template <class Get>
py::dict stated_elements(const PyComposition& c, Get&& get) {
  py::dict d;
  for (std::size_t k = 0; k < element_count; ++k) {
    const bool varies = !c.is_one() && (c.columns->amount[k] || c.columns->stated[k]);
    if (varies || c.one.stated[k] != Stated::not_stated) d[py::str(name_of(k))] = get(c, k);
  }
  return d;
}

py::dict half_widths(const PyComposition& c) {
  py::dict d;
  for (std::size_t k = 0; k < element_count; ++k)
    if (c.one.half_width[k] != 0.0 || (!c.is_one() && c.columns->half_width[k])) d[py::str(name_of(k))] = half_of(c, k);
  return d;
}

std::string print(const PyComposition& c) {
  std::ostringstream out;
  out << "Composition(";
  bool first = true;
  for (std::size_t k = 0; k < element_count; ++k) {
    const bool varies = !c.is_one() && c.columns->amount[k];
    if (!varies && c.one.stated[k] == Stated::not_stated) continue;
    out << (first ? "" : ", ") << name_of(k) << "=";
    first = false;
    if (varies) {
      out << "[...]";
      continue;
    }
    out << c.one.amount[static_cast<Element>(k)];
    if (c.one.stated[k] != Stated::measured) out << " " << stated_names[static_cast<std::size_t>(c.one.stated[k])];
    if (c.one.half_width[k] != 0.0) out << " +-" << c.one.half_width[k];
  }
  if (!c.is_one()) out << "; " << c.rows() << " steels";
  out << ")";
  return out.str();
}

/// Unusable amounts are the same as one another here: two readings of one bad certificate are equal.
bool same(const Composition& a, const Composition& b) {
  for (std::size_t k = 0; k < element_count; ++k) {
    const double x = a.amount[static_cast<Element>(k)];
    const double y = b.amount[static_cast<Element>(k)];
    if (!(x == y || (std::isnan(x) && std::isnan(y)))) return false;
  }
  return a.stated == b.stated && a.half_width == b.half_width;
}

bool same(const PyComposition& a, const PyComposition& b) {
  if (a.is_one() != b.is_one()) return false;
  if (!a.is_one() && a.columns->shape != b.columns->shape) return false;
  for (std::size_t i = 0; i < a.rows(); ++i)
    if (!same(a.row(i), b.row(i))) return false;
  return true;
}

}  // namespace

void register_composition(py::module_& module) {
  auto type =
      py::class_<PyComposition>(module, "Composition",
                                R"(Chemistry of one steel, or of a batch of steels.

Keywords are element symbols (C Mn Si Cr Ni Mo V W Cu Co Al Nb Ti N B P S As Sn), amounts in wt %, numbers or
equal-shaped arrays; iron is the balance. An element left out, or None, is *not stated*: formulas read 0 and an answer that
would move is flagged. NaN means unusable: NaN in, NaN out. `half_width` and `status` are dicts by element. Amounts are
copied once, so that the value never changes.

Raises ValueError for an amount outside 0 to 100 wt % or a sum above 100 in a single steel (in a batch such a row becomes
NaN and is flagged), TypeError for anything that is not a number or has no name.)")
          .def(py::init([](const py::Args<py::typing::NoReturn>& nameless, const py::kwargs& given) {
            if (!nameless.empty())
              throw py::type_error("Composition: " + shown(nameless[0]) +
                                   " has no name; expected amounts by element, such as Composition(C=0.95, Mn=0.40)");
            py::kwargs amounts;
            py::object half_width = py::none();
            py::object status = py::none();
            for (const auto& [key, value] : given) {
              const auto name = py::cast<std::string_view>(key);
              if (name == "half_width")
                half_width = py::reinterpret_borrow<py::object>(value);
              else if (name == "status")
                status = py::reinterpret_borrow<py::object>(value);
              else
                amounts[key] = value;
            }
            return composition_from(amounts, half_width, status);
          }))
          .def_property_readonly(
              "shape",
              [](const PyComposition& c) { return c.is_one() ? py::tuple() : py::tuple(py::cast(c.columns->shape)); },
              "Shape of the batch; () for one steel.")
          .def_property_readonly(
              "amounts", [](const PyComposition& c) { return stated_elements(c, amount_of); },
              "Amounts by element, wt %, of the elements that are stated.")
          .def_property_readonly(
              "status", [](const PyComposition& c) { return stated_elements(c, status_of); },
              "How each stated element became known: measured, below_limit or filled (codes 0, 1, 2 in a batch; 3 is "
              "not stated).")
          .def_property_readonly("half_width", half_widths, "Half-width of each amount that is not exact, wt %.")
          .def(
              "__getitem__",
              [](const PyComposition& c, py::ssize_t i) {
                if (c.is_one()) throw py::type_error("Composition: one steel has no rows to index");
                const auto rows = static_cast<py::ssize_t>(c.rows());
                const py::ssize_t at = i < 0 ? i + rows : i;
                if (at < 0 || at >= rows)
                  throw py::index_error("Composition: row " + std::to_string(i) + " of " + std::to_string(rows));
                PyComposition row;
                row.one = c.row(static_cast<std::size_t>(at));
                return row;
              },
              py::arg("row"), "One steel of a batch (counted along the flattened shape).")
          .def("__len__",
               [](const PyComposition& c) {
                 if (c.is_one()) throw py::type_error("Composition: one steel has no length");
                 return c.rows();
               })
          .def("__eq__",
               [](const PyComposition& a, const py::object& b) {
                 return py::isinstance<PyComposition>(b) && same(a, py::cast<const PyComposition&>(b));
               })
          .def("__hash__",
               [](const PyComposition& c) {
                 if (!c.is_one()) throw py::type_error("Composition: a batch cannot be hashed");
                 return py::hash(py::str(print(c)));
               })
          .def("__repr__", print)
          .def(py::pickle(
              [](const PyComposition& c) {
                py::dict amounts;
                py::dict status;
                for (std::size_t k = 0; k < element_count; ++k) {
                  const py::str name(name_of(k));
                  if (!c.is_one() && c.columns->amount[k])
                    amounts[name] = amount_of(c, k);
                  else if (c.one.stated[k] != Stated::not_stated)
                    amounts[name] = py::float_(c.one.amount[static_cast<Element>(k)]);
                  status[name] = status_of(c, k);
                }
                return py::make_tuple(pickle_version, amounts, half_widths(c), status);
              },
              [](const py::tuple& state) {
                if (state.size() != 4 || py::cast<int>(state[0]) != pickle_version)
                  throw py::value_error(
                      "Composition: this pickle was written by another version; make it again from the certificate");
                py::kwargs amounts;
                for (const auto& [key, value] : py::cast<py::dict>(state[1])) amounts[key] = value;
                return composition_from(amounts, state[2], state[3]);
              }));
  for (std::size_t k = 0; k < element_count; ++k)
    type.def_property_readonly(
        name_of(k).c_str(), [k](const PyComposition& c) { return amount_of(c, k); },
        "Amount, wt %; 0 where not stated.");
}

}  // namespace bindings
