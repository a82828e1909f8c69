#include "page/zones.hpp"

#include <cstring>

#include "page/row_joins.hpp"
#include "page/sharpness.hpp"

namespace frisket {
namespace {

constexpr int rows_between_clearings = 64;

/// What is known of a zone while it grows.
struct Growing {
  Zone zone;
  cv::Point first;  ///< its first pixel in raster order
};

bool comes_before(cv::Point a, cv::Point b) { return a.y < b.y || (a.y == b.y && a.x < b.x); }

void take_in(Growing& whole, const Growing& part) {
  whole.zone.area += part.zone.area;
  whole.zone.box |= part.zone.box;
  whole.zone.canvas_contact += part.zone.canvas_contact;
  whole.zone.border += part.zone.border;
  whole.zone.sharp_border += part.zone.sharp_border;
  if (comes_before(part.first, whole.first)) whole.first = part.first;
}

/// Labels that stand for zones, and which of them turned out to be one. Label 0 stands for none.
class Labels {
 public:
  int add(cv::Point first) {
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
    zones_[index(label)].first = first;
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
    take_in(zones_[index(a)], zones_[index(b)]);
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
    std::vector<int> left;
    for (const int label : old_) {
      const int whole = parents_[index(label)];
      if (stays(whole))
        left.push_back(label);
      else
        ended_.push_back(label);
    }
    for (const int label : young_) {
      if (parents_[index(label)] == label && stays(label))
        left.push_back(label);
      else
        free_.push_back(label);
    }
    for (const int label : ended_) parents_[index(label)] = 0;
    ended_.clear();
    young_.clear();
    old_ = std::move(left);
  }

 private:
  static std::size_t index(int label) { return static_cast<std::size_t>(label); }

  std::vector<int> parents_{0};
  std::vector<Growing> zones_{1};
  std::vector<int> free_, young_, old_, ended_;
};

/// Labels the runs of one row after another.
class Labeller {
 public:
  Labeller(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, const IsKept& kept, bool with_borders)
      : rgb_(rgb), area_(area), kept_(kept), with_borders_(with_borders), joins_(rgb, area, rule) {
    map_.label = LabelMap(area.size(), -1);
  }

  ZoneMap run() {
    for (int y = 0; y < area_.height; ++y) {
      joins_.next();
      label_row(y);
      if ((y + 1) % rows_between_clearings == 0) clear(false);
    }
    clear(true);
    number_zones();
    return std::move(map_);
  }

 private:
  void label_row(int y) {
    above_.swap(here_);
    here_.clear();
    const std::uint8_t* left = joins_.left().data();
    const int width = area_.width;
    std::size_t upper = 0;
    for (int begin = 0; begin < width;) {
      int end = begin + 1;
      while (end < width && left[end] != 0) ++end;
      add_run(y, begin, end, upper);
      begin = end;
    }
    waiting_.insert(waiting_.end(), here_.begin(), here_.end());
    waiting_ends_.push_back(waiting_.size());
  }

  /// `upper`: the first run of the row above that may lie above.
  void add_run(int y, int begin, int end, std::size_t& upper) {
    const std::uint8_t* joined = joins_.above().data();
    while (upper < above_.size() && above_[upper].end <= begin) ++upper;
    int label = 0;
    for (std::size_t i = upper; i < above_.size() && above_[i].begin < end; ++i) {
      const int from = std::max(begin, above_[i].begin), to = std::min(end, above_[i].end);
      if (std::memchr(joined + from, 1, static_cast<std::size_t>(to - from)) == nullptr) continue;
      const int root = labels_.root(above_[i].label);
      label = label == 0 || label == root ? root : labels_.unite(label, root);
    }
    if (label == 0) label = labels_.add({begin, y});
    measure(labels_.of(label), y, begin, end);
    here_.push_back({begin, end, label});
    if (with_borders_) measure_borders(y, begin, end, label, upper);
  }

  void measure(Growing& growing, int y, int begin, int end) {
    if (comes_before({begin, y}, growing.first)) growing.first = {begin, y};
    Zone& zone = growing.zone;
    zone.area += end - begin;
    zone.box |= cv::Rect(begin, y, end - begin, 1);
    zone.canvas_contact += pixels_on_edge({begin, end}, y, area_.size());
  }

  void add_border(int label, cv::Point at, cv::Point way) {
    Zone& zone = labels_.of(labels_.root(label)).zone;
    ++zone.border;
    zone.sharp_border += turns_sharply(rgb_, at + area_.tl(), way);
  }

  void measure_borders(int y, int begin, int end, int label, std::size_t upper) {
    if (begin > 0 && labels_.root(here_[here_.size() - 2].label) != labels_.root(label)) {
      add_border(label, {begin, y}, {-1, 0});
      add_border(here_[here_.size() - 2].label, {begin - 1, y}, {1, 0});
    }
    const std::uint8_t* joined = joins_.above().data();
    for (std::size_t i = upper; i < above_.size() && above_[i].begin < end; ++i) {
      const int from = std::max(begin, above_[i].begin), to = std::min(end, above_[i].end);
      if (labels_.root(above_[i].label) == labels_.root(label)) continue;
      for (int x = from; x < to; ++x)
        if (joined[x] == 0) {
          add_border(label, {x, y}, {0, -1});
          add_border(above_[i].label, {x, y - 1}, {0, 1});
        }
    }
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
      if (fate == Fate::unknown) fate = kept_(labels_.of(root).zone) ? Fate::stays : Fate::goes;
      return fate == Fate::stays;
    };
    std::vector<Run> row;
    std::size_t at = 0;
    for (const std::size_t row_end : waiting_ends_) {
      row.clear();
      for (; at < row_end; ++at)
        if (const int root = labels_.root(waiting_[at].label); stays(root))
          row.push_back({waiting_[at].begin, waiting_[at].end, root});
      map_.label.add_row(row);
    }
    waiting_.clear();
    waiting_ends_.clear();
    labels_.clear(stays);
  }

  /// Numbers the zones that are kept by their first pixels.
  void number_zones() {
    std::vector<std::pair<cv::Point, int>> firsts;
    std::vector<int> number;
    const auto number_of = [&](int root) -> int& {
      if (number.size() <= static_cast<std::size_t>(root))
        number.resize(static_cast<std::size_t>(root) + 1, -1);
      return number[static_cast<std::size_t>(root)];
    };
    LabelMap stored(area_.size(), -1);
    for (int y = 0; y < area_.height; ++y)
      for (const Run& run : map_.label.row(y))
        if (const int root = labels_.root(run.label); root != 0 && number_of(root) < 0) {
          number_of(root) = 0;
          firsts.emplace_back(labels_.of(root).first, root);
        }
    std::ranges::sort(firsts, [](const auto& a, const auto& b) { return comes_before(a.first, b.first); });
    for (const auto& [first, root] : firsts) {
      number_of(root) = static_cast<int>(map_.zones.size());
      map_.zones.push_back(labels_.of(root).zone);
    }
    std::vector<Run> row;
    for (int y = 0; y < area_.height; ++y) {
      row.clear();
      for (const Run& run : map_.label.row(y))
        if (const int root = labels_.root(run.label); root != 0)
          row.push_back({run.begin, run.end, number_of(root)});
      stored.add_row(row);
    }
    map_.label = std::move(stored);
  }

  const cv::Mat& rgb_;
  cv::Rect area_;
  const IsKept& kept_;
  bool with_borders_;
  RowJoins joins_;
  Labels labels_;
  std::vector<Run> above_, here_;
  std::vector<Run> waiting_;  ///< runs of the rows that are not stored yet
  std::vector<std::size_t> waiting_ends_;
  ZoneMap map_;
};

void measure_colours(const cv::Mat& rgb, ZoneMap& map) {
  std::vector<cv::Vec3d> sums(map.zones.size());
  for (int y = 0; y < rgb.rows; ++y) {
    const cv::Vec3b* row = rgb.ptr<cv::Vec3b>(y);
    for (const Run& run : map.label.row(y)) {
      int r = 0, g = 0, b = 0;
      for (int x = run.begin; x < run.end; ++x) r += row[x][0], g += row[x][1], b += row[x][2];
      sums[static_cast<std::size_t>(run.label)] += cv::Vec3d(r, g, b);
    }
  }
  for (std::size_t i = 0; i < sums.size(); ++i) {
    const double n = static_cast<double>(map.zones[i].area);
    map.zones[i].colour = cv::Vec3f(static_cast<float>(sums[i][0] / n), static_cast<float>(sums[i][1] / n),
                                    static_cast<float>(sums[i][2] / n));
  }
}

}  // namespace

ZoneMap label_zones(const cv::Mat& rgb, const cv::Rect& area, ZoneRule rule, const IsKept& kept,
                    bool with_borders) {
  ZoneMap map = Labeller(rgb, area, rule, kept, with_borders).run();
  measure_colours(rgb(area), map);
  return map;
}

ZoneMap label_zones(const cv::Mat& rgb, ZoneRule rule) {
  return label_zones(rgb, {{}, rgb.size()}, rule, [](const Zone&) { return true; });
}

}  // namespace frisket
