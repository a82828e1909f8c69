#include "page/zones/zone_band.hpp"

#include <cstring>

#include "page/zones/row_joins.hpp"
#include "page/zones/sharpness.hpp"

namespace frisket {
namespace {

constexpr int rows_between_clearings = 64;

/// Labels that stand for zones, and which of them turned out to be one. Label 0 stands for none.
class Labels {
 public:
  int add() {
    int label;
    if (free_.empty()) {
      label = static_cast<int>(parents_.size());
      parents_.push_back(label);
      zones_.emplace_back();
    } else {
      label = free_.back();
      free_.pop_back();
      parents_[index(label)] = label;
      zones_[index(label)] = {};
    }
    young_.push_back(label);
    return label;
  }
  int root(int label) {
    while (parents_[index(label)] != label)
      label = parents_[index(label)] = parents_[index(parents_[index(label)])];
    return label;
  }
  int unite(int a, int b) {
    if (a > b) std::swap(a, b);
    zones_[index(a)].take_in(zones_[index(b)]);
    return parents_[index(b)] = a;
  }
  Growing& of(int root) { return zones_[index(root)]; }
  std::size_t size() const { return parents_.size(); }

  /// Forgets all labels but those that `stays` says: gives the numbers of those made since the last clearing
  /// free, and points the others, which stored runs may still name, to none.
  template <class Stays>
  void clear(Stays&& stays) {
    for (std::vector<int>* labels : {&old_, &young_})
      for (const int label : *labels) parents_[index(label)] = root(label);
    std::vector<int> left, ended;
    for (const int label : old_) (stays(parents_[index(label)]) ? left : ended).push_back(label);
    for (const int label : young_)
      (parents_[index(label)] == label && stays(label) ? left : free_).push_back(label);
    for (const int label : ended) parents_[index(label)] = 0;
    young_.clear();
    old_ = std::move(left);
  }

 private:
  static std::size_t index(int label) { return static_cast<std::size_t>(label); }

  std::vector<int> parents_{0};
  std::vector<Growing> zones_{1};
  std::vector<int> free_, young_, old_;
};

/// The first flag of that value from `begin` up to `end`; `end` where there is none. Most are near.
int first(int value, const std::vector<std::uint8_t>& flags, int begin, int end) {
  const std::uint8_t* flag = flags.data();
  const int near = std::min(begin + 8, end);
  for (int x = begin; x < near; ++x)
    if (flag[x] == value) return x;
  if (near >= end) return end;
  const void* at = std::memchr(flag + near, value, static_cast<std::size_t>(end - near));
  return at == nullptr ? end : static_cast<int>(static_cast<const std::uint8_t*>(at) - flag);
}

int first(int value, const std::vector<std::uint8_t>& flags, int begin) {
  return first(value, flags, begin, static_cast<int>(flags.size()));
}

bool any(const std::vector<std::uint8_t>& flags, int begin, int end) {
  return first(1, flags, begin, end) < end;
}

/// Labels the runs of one row after another.
class Labeller {
 public:
  Labeller(const cv::Mat& rgb, const cv::Rect& area, Band band, ZoneRule rule, const KeptZones& kept)
      : rgb_(rgb), area_(area), band_(band), kept_(kept), joins_(rgb, area, rule, band.first) {
    found_.label = LabelMap({area.width, band.last - band.first}, -1);
  }

  BandZones run() {
    for (int y = band_.first; y < band_.last; ++y) {
      joins_.next();
      if (y == band_.first) found_.joined_above = joins_.above();
      label_row(y);
      if ((y + 1) % rows_between_clearings == 0) clear(false);
    }
    clear(true);
    number_zones();
    return std::move(found_);
  }

 private:
  void label_row(int y) {
    above_.swap(here_);
    here_.clear();
    const int width = area_.width;
    std::size_t upper = 0;
    if (kept_.least_pixels > 1) mark_joined();
    for (int begin = 0, end; begin < width; begin = end) {
      if (kept_.least_pixels > 1 && (begin = first_not_alone(begin)) >= width) break;
      end = first(0, joins_.left(), begin + 1);
      // A zone of its own, as an even smaller one that was passed over.
      if (end - begin < kept_.least_pixels && !any(joins_.above(), begin, end) &&
          !any(joins_.below(), begin, end))
        continue;
      add_run(y, {begin, end}, upper);
    }
    waiting_.insert(waiting_.end(), here_.begin(), here_.end());
    waiting_ends_.push_back(waiting_.size());
  }

  /// Which pixels are joined with the one before, above or below.
  void mark_joined() {
    const std::size_t width = joins_.left().size();
    joined_.resize(width);
    std::uint8_t* __restrict joined = joined_.data();
    const std::uint8_t *left = joins_.left().data(), *above = joins_.above().data(),
                       *below = joins_.below().data();
    for (std::size_t x = 0; x < width; ++x)
      joined[x] = static_cast<std::uint8_t>(left[x] | above[x] | below[x]);
  }

  /// Passes over the pixels from `begin` on, where a run begins, that are zones by themselves: on a
  /// photograph most are.
  int first_not_alone(int begin) const {
    const int joined = first(1, joined_, begin);
    const bool with_the_one_before =
        joined < area_.width && joins_.left()[static_cast<std::size_t>(joined)] != 0;
    return with_the_one_before ? joined - 1 : joined;
  }

  /// `upper`: the first run of the row above that may lie above.
  void add_run(int y, Run run, std::size_t& upper) {
    while (upper < above_.size() && above_[upper].end <= run.begin) ++upper;
    for (std::size_t i = upper; i < above_.size() && above_[i].begin < run.end; ++i) {
      if (!any(joins_.above(), std::max(run.begin, above_[i].begin), std::min(run.end, above_[i].end)))
        continue;
      const int root = labels_.root(above_[i].label);
      run.label = run.label == 0 || run.label == root ? root : labels_.unite(run.label, root);
    }
    if (run.label == 0) run.label = labels_.add();
    const cv::Vec3b* row = rgb_.ptr<cv::Vec3b>(area_.y + y) + area_.x;
    labels_.of(run.label).add(y, run, pixels_on_edge(run, y, area_.size()),
                              colour_sum(row + run.begin, row + run.end));
    if (kept_.with_borders) measure_borders(y, run, upper);
    here_.push_back(run);
  }

  /// Counts the sides of a run at which other zones begin. What it meets again by a way round is no other
  /// zone: then the side that the other run has counted is taken back.
  void measure_borders(int y, const Run& run, std::size_t upper) {
    int border = 0, sharp = 0;
    const auto count = [&](int x, int row, cv::Point way, int by) {
      if (kept_.latest_turn > 0 && is_beside_speck(rgb_, cv::Point(x, row) + area_.tl(), way)) return;
      border += by;
      if (turns_sharply(rgb_, cv::Point(x, row) + area_.tl(), way, kept_.latest_turn)) sharp += by;
    };
    if (run.begin > 0) {
      const bool same =
          !here_.empty() && here_.back().end == run.begin && labels_.root(here_.back().label) == run.label;
      same ? count(run.begin - 1, y, {1, 0}, -1) : count(run.begin, y, {-1, 0}, 1);
    }
    if (run.end < area_.width) count(run.end - 1, y, {1, 0}, 1);
    for (int x = run.begin; x < run.end; ++x) {
      const auto at = static_cast<std::size_t>(x);
      if (y > 0 && joins_.above()[at] == 0) {
        while (upper < above_.size() && above_[upper].end <= x) ++upper;
        const bool same = upper < above_.size() && above_[upper].begin <= x &&
                          labels_.root(above_[upper].label) == run.label;
        same ? count(x, y - 1, {0, 1}, -1) : count(x, y, {0, -1}, 1);
      }
      if (y + 1 < area_.height && joins_.below()[at] == 0) count(x, y, {0, 1}, 1);
    }
    labels_.of(run.label).border += border;
    labels_.of(run.label).sharp_border += sharp;
  }

  /// Is the zone, which ends here unless another band has more of it, to be kept? If not, it may be noted.
  bool is_kept(const Growing& growing) {
    const bool goes_on = (growing.top == band_.first && band_.first > 0) ||
                         (growing.bottom == band_.last && band_.last < area_.height);
    if (goes_on) return true;
    const Zone zone = growing.zone();
    if (kept_.is_kept(zone)) return true;
    if (kept_.is_noted && kept_.is_noted(zone)) found_.noted.push_back({zone, growing.first()});
    return false;
  }

  /// Stores the rows that wait, without the zones that have ended and are not kept.
  void clear(bool at_the_end) {
    enum class Fate : std::uint8_t { unknown, stays, goes };
    std::vector<Fate> fates(labels_.size());
    fates[0] = Fate::goes;
    if (!at_the_end)
      for (Run& run : here_)
        fates[static_cast<std::size_t>(run.label = labels_.root(run.label))] = Fate::stays;
    const auto stays = [&](int root) {
      Fate& fate = fates[static_cast<std::size_t>(root)];
      if (fate == Fate::unknown) fate = is_kept(labels_.of(root)) ? Fate::stays : Fate::goes;
      return fate == Fate::stays;
    };
    std::vector<Run> row;
    std::size_t at = 0;
    for (const std::size_t row_end : waiting_ends_) {
      row.clear();
      for (; at < row_end; ++at)
        if (const int root = labels_.root(waiting_[at].label); stays(root))
          row.push_back({waiting_[at].begin, waiting_[at].end, root});
      found_.label.add_row(row);
    }
    waiting_.clear();
    waiting_ends_.clear();
    labels_.clear(stays);
  }

  /// Numbers the zones that are kept from 0.
  void number_zones() {
    std::vector<int> number(labels_.size(), -1);
    LabelMap numbered(found_.label.size(), -1, found_.label.runs());
    std::vector<Run> row;
    for (int y = 0; y < found_.label.rows; ++y) {
      row.clear();
      for (const Run& run : found_.label.row(y)) {
        const int root = labels_.root(run.label);
        if (root == 0) continue;
        int& zone = number[static_cast<std::size_t>(root)];
        if (zone < 0) {
          zone = static_cast<int>(found_.zones.size());
          found_.zones.push_back(labels_.of(root));
        }
        row.push_back({run.begin, run.end, zone});
      }
      numbered.add_row(row);
    }
    found_.label = std::move(numbered);
  }

  const cv::Mat& rgb_;
  cv::Rect area_;
  Band band_;
  const KeptZones& kept_;
  RowJoins joins_;
  Labels labels_;
  std::vector<std::uint8_t> joined_;
  std::vector<Run> above_, here_;
  std::vector<Run> waiting_;  ///< runs of the rows that are not stored yet
  std::vector<std::size_t> waiting_ends_;
  BandZones found_;
};

}  // namespace

BandZones label_band(const cv::Mat& rgb, const cv::Rect& area, Band band, ZoneRule rule,
                     const KeptZones& kept) {
  return Labeller(rgb, area, band, rule, kept).run();
}

}  // namespace frisket
