// What could not be seen as it will print is never called clear.
#include <gmock/gmock.h>

#include <limits>

#include "frisket/inspect.hpp"
#include "planted_page.hpp"

namespace frisket {
namespace {

Raster white_page(const Job& job, double dpi) {
  Raster raster;
  raster.width = static_cast<int>((job.trim.width + job.bleed.left + job.bleed.right).pixels(dpi));
  raster.height = static_cast<int>((job.trim.height + job.bleed.top + job.bleed.bottom).pixels(dpi));
  raster.rgb.assign(static_cast<std::size_t>(raster.width) * static_cast<std::size_t>(raster.height) * 3,
                    255);
  raster.file_dpi = dpi;
  return raster;
}

Job card() {
  const JobFlag flags[]{{"trim", "60x40mm"}, {"bleed", "3mm"}, {"safe", "4mm"}};
  return job_from_flags(flags, all_limits());
}

TEST(Unseen, APageThatWasNotWhollySeenIsNotAssessed) {
  const Job job = card();
  Raster raster = white_page(job, 300);
  EXPECT_EQ(inspect(raster, job, {"page.tif", 1, std::nullopt, std::nullopt}).verdict, Verdict::clear);
  raster.unseen = {"its spot inks were left out", "its profile is damaged"};
  const Report report = inspect(raster, job, {"page.tif", 1, std::nullopt, std::nullopt});
  EXPECT_EQ(report.verdict, Verdict::not_assessed);
  for (const CheckResult& check : report.checks) {
    if (check.check == "page-size") continue;
    EXPECT_EQ(check.state, CheckResult::State::not_assessed) << check.check;
    EXPECT_EQ(check.why, "its spot inks were left out; its profile is damaged");
  }
}

TEST(Unseen, AResolutionThatNoPageCanHaveIsAnError) {
  const Job job = card();
  Raster raster = white_page(job, 300);
  for (const double dpi :
       {0.0, -300.0, std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    raster.file_dpi = dpi;
    EXPECT_THROW(inspect(raster, job, {"page.tif", 1, std::nullopt, std::nullopt}), Error) << dpi;
  }
}

}  // namespace
}  // namespace frisket
