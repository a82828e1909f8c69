#include "page/elements/pieces.hpp"

#include <algorithm>
#include <optional>

#include "page/elements/ringing.hpp"
#include "page/elements/soft_rims.hpp"
#include "page/zones/on_all_cores.hpp"

namespace frisket {
namespace {

constexpr int least_speck_px = 3;  // at 300 dpi; smaller is dust of the renderer

/// The parts but dust and those that `is_left_out` says by their number. A page may hold a speck every third
/// pixel.
template <class IsLeftOut>
std::vector<Piece> pieces_but(const RunComponents& found, cv::Point origin, IsLeftOut&& is_left_out) {
  std::vector<Piece> pieces;
  std::vector<int> place(found.parts.size(), -1);
  for (std::size_t i = 0; i < place.size(); ++i) {
    const RunComponent& part = found.parts[i];
    if (part.area < least_speck_px || is_left_out(i)) continue;
    place[i] = static_cast<int>(pieces.size());
    pieces.push_back({part.box + origin, part.area, {}, false});
  }
  for (int y = 0; y < found.label.rows; ++y)
    for (const Run& run : found.label.row(y))
      if (const int at = place[static_cast<std::size_t>(run.label)]; at >= 0)
        pieces[static_cast<std::size_t>(at)].runs.push_back(
            {y + origin.y, run.begin + origin.x, run.end + origin.x});
  return pieces;
}

std::vector<Piece> pieces_of(const RunComponents& found, cv::Point origin) {
  return pieces_but(found, origin, [](std::size_t) { return false; });
}

void sort_by_first_pixel(std::vector<Piece>& pieces) {
  std::ranges::sort(pieces, {}, [](const Piece& piece) {
    return std::pair(piece.runs.front().y, piece.runs.front().begin);
  });
}

void append_ink(std::vector<Piece> ink, std::vector<Piece>& pieces) {
  for (Piece& piece : ink) {
    piece.is_ink = true;
    pieces.push_back(std::move(piece));
  }
}

/// The ink of a thing that casts a shadow; none where it casts none.
std::optional<std::vector<Piece>> ink_without_shadow(const cv::Mat& rgb, const cv::Rect& area,
                                                     const Piece& thing, const Scale& scale) {
  constexpr int margin = 1;  // of ground, where the shadow begins
  const cv::Rect round = thing.box + cv::Size(2 * margin, 2 * margin) - cv::Point(margin, margin);
  const cv::Rect inside = round & area;
  cv::Mat1b mask = thing.mask(margin)(inside - round.tl());
  if (!take_off_soft_rim(rgb(inside), mask, scale)) return std::nullopt;
  return pieces_of(mask.size(), rows_of(mask), inside.tl());
}

std::vector<Piece> without_shadows(const cv::Mat& rgb, const cv::Rect& area, std::vector<Piece> things,
                                   const Scale& scale) {
  std::vector<std::optional<std::vector<Piece>>> ink(things.size());
  on_all_cores(things.size(),
               [&](std::size_t i) { ink[i] = ink_without_shadow(rgb, area, things[i], scale); });
  std::vector<Piece> pieces;
  pieces.reserve(things.size());
  for (std::size_t i = 0; i < things.size(); ++i)
    if (ink[i])
      append_ink(std::move(*ink[i]), pieces);
    else
      pieces.push_back(std::move(things[i]));
  return pieces;
}

std::vector<Piece> without_ringing(const cv::Mat& rgb, const cv::Rect& area, const RunComponents& things,
                                   const Scale& scale) {
  const WithoutRinging found = take_off_ringing(rgb(area), things, scale);
  std::vector<Piece> pieces =
      pieces_but(things, area.tl(), [&](std::size_t i) { return bool(found.one_colour[i]); });
  const auto row = [&](int y, std::vector<Run>& runs) {
    runs.assign(found.left.row(y).begin(), found.left.row(y).end());
  };
  append_ink(frisket::pieces_of(area.size(), row, area.tl()), pieces);
  return pieces;
}

}  // namespace

cv::Mat1b Piece::mask(int margin) const {
  cv::Mat1b mask(box.height + 2 * margin, box.width + 2 * margin, std::uint8_t{0});
  for (const RowRun& run : runs) {
    std::uint8_t* row = mask[run.y - box.y + margin] + margin - box.x;
    std::fill(row + run.begin, row + run.end, std::uint8_t{255});
  }
  return mask;
}

std::vector<Piece> pieces_of(cv::Size size, const MaskRow& mask, cv::Point origin) {
  return pieces_of(connect(size, mask), origin);
}

std::vector<Piece> clear_pieces_of(const cv::Mat& rgb, const cv::Rect& area, const MaskRow& mask,
                                   const Scale& scale) {
  const RunComponents things = connect(area.size(), mask);
  std::vector<Piece> pieces = scale.lossy ? without_ringing(rgb, area, things, scale)
                                          : without_shadows(rgb, area, pieces_of(things, area.tl()), scale);
  sort_by_first_pixel(pieces);
  return pieces;
}

}  // namespace frisket
