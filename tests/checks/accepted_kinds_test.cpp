#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "frisket/check.hpp"
#include "frisket/error.hpp"

namespace frisket {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::ThrowsMessage;

Job accepting(const std::string& check, const std::string& kind) {
  Job job;
  AcceptedFinding known, asked;
  known.check = "bleed", known.kind = "sliver";
  asked.check = check, asked.kind = kind;
  job.accepted = {known, asked};
  return job;
}

TEST(AcceptedKinds, AreThoseOfTheChecks) {
  EXPECT_NO_THROW(require_known_kinds(Job()));
  for (const Check& check : all_checks())
    for (const std::string_view kind : check.kinds)
      EXPECT_NO_THROW(require_known_kinds(accepting(std::string(check.name), std::string(kind))));
}

TEST(AcceptedKinds, NameTheKeyAndTheChoice) {
  EXPECT_THAT([] { require_known_kinds(accepting("safe_zone", "text-in-band")); },
              ThrowsMessage<Error>(AllOf(HasSubstr("\"accepted[1].check\" is \"safe_zone\""),
                                         HasSubstr("page-size, safe-zone, bleed, folds or resolution"))));
  EXPECT_THAT([] { require_known_kinds(accepting("bleed", "text-in-band")); },
              ThrowsMessage<Error>(AllOf(HasSubstr("\"accepted[1].kind\" is \"text-in-band\""),
                                         HasSubstr("short-bleed, sliver or colour-differs-in-bleed"))));
}

/// The kinds that a check may give are written twice: in its file, and in the schema that reports go through.
TEST(AcceptedKinds, AreThoseOfTheSchema) {
  std::ifstream stream(FRISKET_SOURCE_DIR "/src/schemas/report.schema.json");
  const auto schema = nlohmann::json::parse(stream);
  std::size_t told = 0;
  for (const auto& rule : schema.at("$defs").at("finding").at("allOf")) {
    const std::string name = rule.at("if").at("properties").at("check").at("const");
    const auto check = std::ranges::find(all_checks(), name, &Check::name);
    ASSERT_NE(check, all_checks().end()) << name;
    const std::vector<std::string> kinds = rule.at("then").at("properties").at("kind").at("enum");
    EXPECT_EQ(std::vector<std::string>(check->kinds.begin(), check->kinds.end()), kinds) << name;
    ++told;
  }
  EXPECT_EQ(told, all_checks().size());
}

}  // namespace
}  // namespace frisket
