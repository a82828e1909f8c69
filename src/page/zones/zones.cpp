#include "page/zones/zones.hpp"

#include <atomic>

#include "page/zones/groups.hpp"
#include "page/zones/on_all_cores.hpp"
#include "page/zones/zone_band.hpp"

namespace frisket {
namespace {

constexpr int band_rows = 256;

/// Zones of all bands, and which of them are one.
class BandJoiner {
 public:
  BandJoiner(cv::Size size, std::vector<BandZones> bands, const KeptZones& kept)
      : size_(size), bands_(std::move(bands)), kept_(kept) {
    for (BandZones& band : bands_) {
      offsets_.push_back(zones_.size());
      zones_.insert(zones_.end(), band.zones.begin(), band.zones.end());
      noted_.insert(noted_.end(), band.noted.begin(), band.noted.end());
      band.noted = {};
    }
  }

  ZoneMap run() {
    Groups groups(zones_.size());
    for (std::size_t i = 1; i < bands_.size(); ++i) join(i, groups);
    number(groups);
    LabelMap label = relabelled();
    std::vector<Zone> noted;
    noted.reserve(noted_.size());
    for (const NotedZone& one : noted_) noted.push_back(one.zone);
    noted_ = {};
    return {std::move(label), std::move(found_), std::move(noted)};
  }

 private:
  /// Joins the zones of a band with those of the one above.
  void join(std::size_t band, Groups& groups) const {
    const LabelMap &upper = bands_[band - 1].label, &lower = bands_[band].label;
    const std::vector<std::uint8_t>& joined = bands_[band].joined_above;
    const std::span<const Run> row = upper.row(upper.rows - 1);
    auto above = row.begin();
    for (const Run& run : lower.row(0)) {
      while (above != row.end() && above->end <= run.begin) ++above;
      for (auto over = above; over != row.end() && over->begin < run.end; ++over)
        for (int x = std::max(run.begin, over->begin); x < std::min(run.end, over->end); ++x)
          if (joined[static_cast<std::size_t>(x)] != 0) {
            groups.unite(index(band - 1, over->label), index(band, run.label));
            break;
          }
    }
  }

  int index(std::size_t band, int label) const { return static_cast<int>(offsets_[band]) + label; }

  /// Numbers what is kept by first pixels.
  void number(Groups& groups) {
    std::vector<std::size_t> roots;  // the root of a group is its first member
    for (std::size_t i = 0; i < zones_.size(); ++i) {
      const auto root = static_cast<std::size_t>(groups.root(static_cast<int>(i)));
      root == i ? roots.push_back(i) : zones_[root].take_in(zones_[i]);
    }
    if (kept_.is_noted)
      for (const std::size_t root : roots)
        if (const Zone zone = zones_[root].zone(); kept_.is_noted(zone))
          noted_.push_back({zone, zones_[root].first()});
    std::erase_if(roots, [&](std::size_t root) { return !kept_.is_kept(zones_[root].zone()); });
    const auto place = [](cv::Point first) { return std::pair(first.y, first.x); };
    std::ranges::sort(roots, {}, [&](std::size_t i) { return place(zones_[i].first()); });
    std::ranges::sort(noted_, {}, [&](const NotedZone& noted) { return place(noted.first); });
    numbers_.assign(zones_.size(), -1);
    for (const std::size_t root : roots) {
      numbers_[root] = static_cast<int>(found_.size());
      found_.push_back(zones_[root].zone());
    }
    for (std::size_t i = 0; i < numbers_.size(); ++i)
      numbers_[i] = numbers_[static_cast<std::size_t>(groups.root(static_cast<int>(i)))];
  }

  LabelMap relabelled() {
    on_all_cores(bands_.size(), [&](std::size_t i) {
      bands_[i].label.renumber(std::span(numbers_).subspan(offsets_[i], bands_[i].zones.size()), -1);
    });
    std::size_t runs = 0;
    for (const BandZones& band : bands_) runs += band.label.runs();
    LabelMap label(size_, -1, runs);
    for (BandZones& band : bands_) {
      label.add_rows(band.label);
      band.label = {};
    }
    return label;
  }

  cv::Size size_;
  std::vector<BandZones> bands_;
  const KeptZones& kept_;
  std::vector<Growing> zones_;
  std::vector<NotedZone> noted_;
  std::vector<std::size_t> offsets_;  ///< by band: where its zones begin in `zones_`
  std::vector<int> numbers_;          ///< by those zones: the number of what they belong to
  std::vector<Zone> found_;
};

}  // namespace

struct ZoneBands::Work {
  cv::Mat rgb;
  cv::Rect area;
  ZoneRule rule;
  KeptZones kept;
  std::vector<BandZones> bands{};
  std::atomic<int> next = 0;  ///< band that nobody has taken yet

  Band band(int i) const { return {i * band_rows, std::min(area.height, (i + 1) * band_rows)}; }
};

ZoneBands::ZoneBands(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, KeptZones kept)
    : work_(new Work{rgb, area, rule, std::move(kept)}) {
  work_->bands.resize(static_cast<std::size_t>((area.height + band_rows - 1) / band_rows));
}
ZoneBands::~ZoneBands() = default;
ZoneBands::ZoneBands(ZoneBands&&) noexcept = default;

bool ZoneBands::label_next(int rows) {
  constexpr int beyond = 2;  // rows below a band say whether a ramp goes on
  Work& work = *work_;
  int i = work.next;
  do {
    if (i == std::ssize(work.bands) || rows < std::min(work.area.height, work.band(i).last + beyond))
      return false;
  } while (!work.next.compare_exchange_weak(i, i + 1));
  work.bands[static_cast<std::size_t>(i)] =
      label_band(work.rgb, work.area, work.band(i), work.rule, work.kept);
  return true;
}

ZoneMap ZoneBands::finish() {
  const int left = static_cast<int>(work_->bands.size()) - work_->next;
  on_all_cores(left, [&](int) { label_next(work_->area.height); });
  return BandJoiner(work_->area.size(), std::move(work_->bands), work_->kept).run();
}

ZoneMap label_zones(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, const KeptZones& kept) {
  return ZoneBands(rgb, area, rule, kept).finish();
}

ZoneMap label_zones(const cv::Mat& rgb, ZoneRule rule) {
  return label_zones(rgb, {{}, rgb.size()}, rule, {[](const Zone&) { return true; }});
}

}  // namespace frisket
