#pragma once
// Rows of data/checks/*.csv: the same files feed pytest.
#include <boost/tokenizer.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "decalesce/ground/composition.hpp"

namespace checks {

struct Row {
  std::map<std::string, std::string> cell;

  const std::string& text(const std::string& column) const {
    const auto found = cell.find(column);
    if (found == cell.end()) throw std::runtime_error("no column '" + column + "'");
    return found->second;
  }
  /// NaN for an empty cell.
  double number(const std::string& column) const {
    const std::string& t = text(column);
    return t.empty() ? NAN : std::stod(t);
  }
  /// Blank cells are not stated, never zero.
  decalesce::Composition composition(const std::string& suffix = "") const {
    decalesce::Composition c;
    decalesce::for_each_element([&](decalesce::Element e) {
      const auto found = cell.find(std::string(decalesce::symbol(e)) + suffix);
      if (found != cell.end() && !found->second.empty()) c.set(e, std::stod(found->second));
    });
    return c;
  }
};

inline std::vector<Row> read(const std::string& name) {
  std::ifstream file(std::string(DECALESCE_DATA) + "/" + name);
  if (!file) throw std::runtime_error("cannot open data/" + name);
  using Cells = boost::tokenizer<boost::escaped_list_separator<char>>;
  // RFC 4180 doubles a quote inside quotes; the separator wants it escaped.
  const auto split = [](std::string line) {
    std::string escaped;
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (line[i] == '\\') escaped += '\\';
      if (line[i] == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
        escaped += "\\\"";
        ++i;
        continue;
      }
      if (line[i] == '"') quoted = !quoted;
      escaped += line[i];
    }
    const Cells cells(escaped);
    return std::vector<std::string>(cells.begin(), cells.end());
  };
  std::string line;
  std::getline(file, line);
  const auto header = split(line);
  std::vector<Row> rows;
  while (std::getline(file, line)) {
    if (line.empty()) continue;
    const auto cells = split(line);
    if (cells.size() != header.size())
      throw std::runtime_error("data/" + name + ": a row with another number of cells: " + line);
    Row row;
    for (std::size_t k = 0; k < header.size(); ++k) row.cell[header[k]] = cells[k];
    rows.push_back(std::move(row));
  }
  if (rows.empty()) throw std::runtime_error("data/" + name + " holds no rows");
  return rows;
}

}  // namespace checks
