#include <cmath>

#include "frisket/job.hpp"

namespace frisket {
namespace {

const Length same_place = Length::from_mm(0.5), same_distance = Length::from_mm(0.05);
constexpr double same_resolution = 0.01;

bool near(Length a, Length b) { return abs(a - b) <= same_place; }

bool is_in_place(const std::optional<Rect>& accepted, const Rect& box) {
  const Rect there = accepted.value_or(Rect{});
  return near(there.left(), box.left()) && near(there.top(), box.top()) && near(there.right(), box.right()) &&
         near(there.bottom(), box.bottom());
}

/// By how much more than `allowed` a value has gone away from what is asked for, on the side where it lies.
template <class Value>
bool is_worse(const std::optional<Value>& accepted, const std::optional<Value>& measured,
              const std::optional<Value>& required, Value allowed) {
  if (!measured) return false;
  if (!accepted) return true;
  const bool too_much = required && *measured > *required;
  return too_much ? *measured > *accepted + allowed : *measured < *accepted - allowed;
}

}  // namespace

bool accepts(const AcceptedFinding& accepted, const Finding& finding) {
  return accepted.check == finding.check && accepted.kind == finding.kind &&
         is_in_place(accepted.box, finding.box) &&
         !is_worse(accepted.measured, finding.measured, finding.required, same_distance) &&
         !is_worse(accepted.measured_ppi, finding.measured_ppi, finding.required_ppi,
                   same_resolution * accepted.measured_ppi.value_or(0));
}

}  // namespace frisket
