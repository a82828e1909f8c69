// What folds are called in tickets and in the trade (common practice, no source).
#include <algorithm>
#include <array>

#include "job/folds.hpp"

namespace frisket {
namespace {

struct FoldName {
  std::string_view name;
  FoldKind kind;
};
/// The first name of a kind is the one frisket uses.
constexpr std::array fold_names{FoldName{"none", FoldKind::none},
                                FoldName{"half", FoldKind::half},
                                FoldName{"bi-fold", FoldKind::half},
                                FoldName{"letter", FoldKind::letter},
                                FoldName{"c", FoldKind::letter},
                                FoldName{"tri-fold", FoldKind::letter},
                                FoldName{"z", FoldKind::z},
                                FoldName{"accordion", FoldKind::z},
                                FoldName{"concertina", FoldKind::z},
                                FoldName{"gate", FoldKind::gate},
                                FoldName{"double-gate", FoldKind::double_gate},
                                FoldName{"closed-gate", FoldKind::double_gate},
                                FoldName{"roll", FoldKind::roll},
                                FoldName{"barrel", FoldKind::roll},
                                FoldName{"double-parallel", FoldKind::double_parallel},
                                FoldName{"cross", FoldKind::cross},
                                FoldName{"french", FoldKind::cross},
                                FoldName{"list", FoldKind::list}};

}  // namespace

std::string_view fold_name(FoldKind kind) {
  return std::ranges::find(fold_names, kind, &FoldName::kind)->name;
}

std::optional<FoldKind> find_fold(std::string_view name) {
  const auto found = std::ranges::find(fold_names, name, &FoldName::name);
  if (found == fold_names.end() || found->kind == FoldKind::list) return std::nullopt;
  return found->kind;
}

}  // namespace frisket
