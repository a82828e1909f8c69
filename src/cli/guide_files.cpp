#include "cli/guide_files.hpp"

#include "frisket/error.hpp"
#include "frisket/report.hpp"

namespace frisket {
namespace {

struct GuideFile {
  std::filesystem::path file;
  std::string bytes;
};

std::vector<GuideFile> guides_of(const Job& job, const std::filesystem::path& folder,
                                 const std::string& name) {
  std::vector<std::optional<Side>> sides{std::nullopt};
  if (job.folded) sides = {Side::outside, Side::inside};
  std::vector<GuideFile> guides;
  for (const auto side : sides) {
    const std::string stem = name + (side ? "-" + std::string(side_name(*side)) : "") + ".guide.";
    guides.push_back({folder / (stem + "svg"), guide_svg(job, side)});
    guides.push_back({folder / (stem + "pdf"), guide_pdf(job, side)});
  }
  return guides;
}

}  // namespace

std::vector<std::filesystem::path> write_guides(const Job& job, const std::filesystem::path& folder,
                                                const std::string& name) {
  std::vector<std::filesystem::path> written;
  try {
    for (const GuideFile& guide : guides_of(job, folder, name)) {
      write_file(guide.file, guide.bytes);
      written.push_back(guide.file);
    }
  } catch (const Error&) {
    std::error_code ignored;
    for (const std::filesystem::path& file : written) std::filesystem::remove(file, ignored);
    throw;
  }
  return written;
}

}  // namespace frisket
