#include "page/placing/strokes.hpp"

#include <algorithm>
#include <cmath>

#include "page/placing/line_ink.hpp"

namespace frisket {
namespace {

constexpr int least_contrast = 24;     // levels: the thinnest line at 72 dpi is 36 below its ground
constexpr double most_slope = 0.0314;  // 1.8 degrees
constexpr double most_residual = 0.4;  // px: the steps of a rasterised slanted line are 0.29
constexpr double least_piece = 3.0;    // px; dashes are as short as 0.3 mm
constexpr double most_step = 1.2;      // px from row to row
constexpr double join_off = 0.8;       // px that dashes may lie beside each other's line
constexpr double clean_share = 0.6;  // of a stroke's length whose sides are free: slug text may run across it
constexpr double clean_step = 24;    // levels between a side and what lies farther out
constexpr double clean_part = 0.4;   // of the line's own contrast that this may be
constexpr int band_rows = 512;       // looked at in one go, to spare memory

/// A stretch of ink across a row.
struct Run {
  double centre, width;
};

/// Pieces of lines that grow downwards row by row.
class PieceTracer {
 public:
  explicit PieceTracer(int columns) : open_at_(static_cast<std::size_t>(columns) + 4, -1) {}

  void add_row(int y, const std::vector<Run>& runs) {
    std::vector<Open> now;
    for (const Run& run : runs) {
      const int before = piece_above(run);
      Open piece{before < 0 ? Stroke{{}, double(y), 0, 0} : open_[before].stroke, run.centre};
      if (before >= 0) open_[before].goes_on = true;
      piece.stroke.sums.add(y + 0.5, run.centre);
      piece.stroke.to = y + 1.0;
      piece.stroke.width += run.width;
      now.push_back(piece);
    }
    close_others();
    open_ = std::move(now);
    for (std::size_t i = 0; i < open_.size(); ++i) open_at_[column(open_[i].centre)] = static_cast<int>(i);
  }

  std::vector<Stroke> finish() {
    close_others();
    return std::move(done_);
  }

 private:
  struct Open {
    Stroke stroke;
    double centre;
    bool goes_on = false;
  };

  static std::size_t column(double centre) { return static_cast<std::size_t>(centre) + 2; }

  int piece_above(const Run& run) const {
    for (const std::size_t at : {column(run.centre), column(run.centre) - 1, column(run.centre) + 1}) {
      const int piece = open_at_[at];
      if (piece >= 0 && !open_[piece].goes_on && std::abs(open_[piece].centre - run.centre) <= most_step)
        return piece;
    }
    return -1;
  }

  void close_others() {
    for (Open& piece : open_) {
      open_at_[column(piece.centre)] = -1;
      if (!piece.goes_on) close(piece.stroke);
    }
    open_.clear();
  }

  void close(Stroke piece) {
    if (piece.length() < least_piece || piece.sums.residual() > most_residual) return;
    // The ends of a short piece are ragged: its slope may be off by a pixel over its length.
    if (std::abs(piece.sums.slope()) > most_slope + 1.0 / piece.length()) return;
    piece.width /= piece.sums.count;
    done_.push_back(piece);
  }

  std::vector<int> open_at_;  ///< index into open_ by column; -1: none
  std::vector<Open> open_;    ///< pieces that the row above has
  std::vector<Stroke> done_;
};

/// How much ink every pixel has beyond what lies on both sides of it along its row, in its strongest channel.
cv::Mat1b ink_of(const cv::Mat& rgb, int widest) {
  const cv::Mat kernel = cv::Mat::ones(1, 2 * (widest / 2) + 3, CV_8U);
  cv::Mat hat;
  cv::morphologyEx(rgb, hat, cv::MORPH_BLACKHAT, kernel, {-1, -1}, 1, cv::BORDER_REPLICATE);
  std::vector<cv::Mat> channels;
  cv::split(hat, channels);
  cv::Mat strongest;
  cv::max(channels[0], channels[1], strongest);
  cv::max(strongest, channels[2], strongest);
  return strongest;
}

void runs_of_row(const cv::Mat1b& ink, int y, int widest, std::vector<Run>& runs) {
  runs.clear();
  const std::uint8_t* row = ink.ptr(y);
  for (int x = 0; x < ink.cols; ++x) {
    if (row[x] < least_contrast) continue;
    int end = x;
    while (end < ink.cols && row[end] >= least_contrast) ++end;
    if (end - x <= widest + 2) {
      double weight = 0, moment = 0;
      int peak = 0;
      for (int i = std::max(0, x - 1); i < std::min(ink.cols, end + 1); ++i) {
        weight += row[i], moment += row[i] * (i + 0.5);
        peak = std::max<int>(peak, row[i]);
      }
      runs.push_back({moment / weight, weight / peak});
    }
    x = end;
  }
}

/// `image` must be turned so that the lines looked for are upright.
void trace_band(const cv::Mat& band, int first_row, int widest, PieceTracer& tracer) {
  const cv::Mat1b ink = ink_of(band, widest);
  std::vector<Run> runs;
  for (int y = 0; y < ink.rows; ++y) {
    runs_of_row(ink, y, widest, runs);
    tracer.add_row(first_row + y, runs);
  }
}

std::vector<Stroke> find_pieces(const cv::Mat& rgb, bool vertical, int widest) {
  const int along = vertical ? rgb.rows : rgb.cols, across = vertical ? rgb.cols : rgb.rows;
  PieceTracer tracer(across);
  for (int first = 0; first < along; first += band_rows) {
    const cv::Range rows(first, std::min(along, first + band_rows));
    if (vertical)
      trace_band(rgb.rowRange(rows), first, widest, tracer);
    else
      trace_band(rgb.colRange(rows).t(), first, widest, tracer);
  }
  return tracer.finish();
}

/// Is this side of the stroke free of other ink here? Beside a strong line the grain of a picture is none.
bool is_free(const cv::Mat& rgb, bool vertical, double at, double place, double near, double clear) {
  const double side = near < 0 ? -1.0 : 1.0;
  const cv::Vec3b beside = pixel_along(rgb, vertical, at, place + near);
  const double contrast = colour_step(beside, pixel_along(rgb, vertical, at, place));
  const double most = std::max(clean_step, clean_part * contrast);
  for (double away = 1.0; away <= clear; away += 1.0)
    if (colour_step(beside, pixel_along(rgb, vertical, at, place + near + side * away)) >= most) return false;
  return true;
}

/// Are both sides of the stroke free of other ink, nearly all along it?
bool is_alone(const cv::Mat& rgb, bool vertical, const Stroke& stroke, double clear) {
  int rows = 0, clean = 0;
  for (double at = stroke.from + 0.5; at < stroke.to; at += 1.0, ++rows) {
    const double place = stroke.place_at(at), near = stroke.width / 2 + 2.0;
    clean +=
        is_free(rgb, vertical, at, place, -near, clear) && is_free(rgb, vertical, at, place, near, clear);
  }
  return rows > 0 && clean >= clean_share * rows;
}

bool continues(const Stroke& dashes, const Stroke& piece, const StrokeRule& rule) {
  const double gap = piece.from - dashes.to;
  if (gap < 1.0 || gap > rule.widest_gap) return false;
  if (std::abs(piece.width - dashes.width) > 0.35 * std::max(piece.width, dashes.width) + 0.3) return false;
  const double run = piece.middle() - dashes.sums.mean_along();
  return std::abs(piece.sums.mean_across() - dashes.sums.mean_across()) <= join_off + most_slope * run;
}

Stroke joined(Stroke dashes, const Stroke& piece) {
  const double total = dashes.sums.count + piece.sums.count;
  dashes.width = (dashes.width * dashes.sums.count + piece.width * piece.sums.count) / total;
  dashes.sums.add(piece.sums);
  dashes.to = piece.to;
  return dashes;
}

/// Rows of dashes; `pieces` in the order of their beginnings. A row of two may be a mark and a speck that
/// lies in line with it by chance: both count alone as well.
std::vector<Stroke> rows_of_dashes(const std::vector<Stroke>& pieces, const StrokeRule& rule) {
  std::vector<Stroke> rows;
  std::vector<std::vector<std::size_t>> members;
  std::vector<std::size_t> open;  // rows that a later piece may still continue
  for (std::size_t p = 0; p < pieces.size(); ++p) {
    const Stroke& piece = pieces[p];
    if (piece.length() > rule.longest_dash) continue;
    std::erase_if(open, [&](std::size_t i) { return piece.from - rows[i].to > rule.widest_gap; });
    const auto row = std::ranges::find_if(open, [&](std::size_t i) {
      return continues(rows[i], piece, rule) && joined(rows[i], piece).sums.residual() <= most_residual;
    });
    if (row != open.end()) {
      rows[*row] = joined(rows[*row], piece);
      members[*row].push_back(p);
    } else {
      open.push_back(rows.size());
      rows.push_back(piece);
      members.push_back({p});
    }
  }
  for (const std::vector<std::size_t>& row : members)
    if (row.size() == 2)
      for (const std::size_t p : row) rows.push_back(pieces[p]);
  return rows;
}

}  // namespace

void LineSums::add(double at, double place) {
  count += 1.0, along += at, across += place;
  along_along += at * at, along_across += at * place, across_across += place * place;
}

void LineSums::add(const LineSums& other) {
  count += other.count, along += other.along, across += other.across;
  along_along += other.along_along, along_across += other.along_across, across_across += other.across_across;
}

LineSums LineSums::shifted(double by) const {
  LineSums sums = *this;
  sums.across += count * by, sums.along_across += along * by;
  sums.across_across += 2 * across * by + count * by * by;
  return sums;
}

double LineSums::residual() const {
  const double beside = across_across - across * across / count - slope() * slant();
  return std::sqrt(std::max(0.0, beside / count));
}

std::vector<Stroke> find_strokes(const cv::Mat& rgb, bool vertical, const StrokeRule& rule) {
  std::vector<Stroke> pieces = find_pieces(rgb, vertical, rule.widest);
  std::ranges::stable_sort(pieces, {}, &Stroke::from);
  std::vector<Stroke> strokes = rows_of_dashes(pieces, rule);
  for (const Stroke& piece : pieces)
    if (piece.length() > rule.longest_dash) strokes.push_back(piece);
  std::erase_if(strokes, [&](const Stroke& stroke) {
    return stroke.length() < rule.shortest || std::abs(stroke.sums.slope()) > most_slope ||
           !is_alone(rgb, vertical, stroke, rule.clear);
  });
  return strokes;
}

}  // namespace frisket
