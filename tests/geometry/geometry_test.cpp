#include "frisket/geometry.hpp"

#include <gtest/gtest.h>

namespace frisket {
namespace {

using namespace literals;

constexpr Rect rect(double x, double y, double width, double height) {
  return {Length::from_mm(x), Length::from_mm(y), Length::from_mm(width), Length::from_mm(height)};
}

TEST(Rect, HasFourSides) {
  const Rect r = Rect::from_sides(-3_mm, -2_mm, 10_mm, 20_mm);
  EXPECT_EQ(r, rect(-3, -2, 13, 22));
  EXPECT_EQ(r.left(), -3_mm);
  EXPECT_EQ(r.top(), -2_mm);
  EXPECT_EQ(r.right(), 10_mm);
  EXPECT_EQ(r.bottom(), 20_mm);
}

TEST(Rect, IsEmptyWithoutWidthOrHeight) {
  EXPECT_TRUE(Rect{}.empty());
  EXPECT_TRUE(rect(1, 1, 0, 5).empty());
  EXPECT_TRUE(rect(1, 1, 5, -1).empty());
  EXPECT_FALSE(rect(1, 1, 5, 0.001).empty());
}

TEST(Intersection, IsWhatBothCover) {
  EXPECT_EQ(intersection(rect(0, 0, 10, 10), rect(5, -5, 10, 10)), rect(5, 0, 5, 5));
  EXPECT_EQ(intersection(rect(0, 0, 10, 10), rect(2, 3, 1, 1)), rect(2, 3, 1, 1));
}

TEST(Intersection, IsEmptyWhereTheyOnlyTouch) {
  EXPECT_EQ(intersection(rect(0, 0, 10, 10), rect(10, 0, 5, 10)), Rect{});
  EXPECT_EQ(intersection(rect(0, 0, 10, 10), rect(20, 20, 5, 5)), Rect{});
  EXPECT_EQ(intersection(rect(0, 0, 10, 10), Rect{}), Rect{});
}

TEST(United, HoldsBoth) { EXPECT_EQ(united(rect(0, 0, 1, 1), rect(5, -5, 1, 1)), rect(0, -5, 6, 6)); }

TEST(United, IsNotStretchedByAnEmptyOne) {
  EXPECT_EQ(united(rect(5, 5, 1, 1), Rect{}), rect(5, 5, 1, 1));
  EXPECT_EQ(united(rect(-9, 0, 0, 4), rect(5, 5, 1, 1)), rect(5, 5, 1, 1));
}

TEST(Grown, MovesEachEdgeByItsOwn) {
  const Edges by{1_mm, 2_mm, 3_mm, 4_mm};
  EXPECT_EQ(grown(rect(0, 0, 10, 20), by), rect(-4, -1, 16, 24));
  EXPECT_EQ(grown(grown(rect(0, 0, 10, 20), by), {-1_mm, -2_mm, -3_mm, -4_mm}), rect(0, 0, 10, 20));
}

TEST(Grown, MayShrinkToNothing) { EXPECT_TRUE(grown(rect(0, 0, 10, 20), Edges::all(-5_mm)).empty()); }

TEST(Edges, AreReadAndWrittenByName) {
  Edges edges{1_mm, 2_mm, 3_mm, 4_mm};
  EXPECT_EQ(edges.at(Edge::top), 1_mm);
  EXPECT_EQ(edges.at(Edge::right), 2_mm);
  EXPECT_EQ(edges.at(Edge::bottom), 3_mm);
  EXPECT_EQ(edges.at(Edge::left), 4_mm);
  for (const Edge edge : all_edges) edges.at(edge) = 7_mm;
  EXPECT_EQ(edges, Edges::all(7_mm));
}

TEST(Edges, KnowTheirNamesAndDirection) {
  EXPECT_EQ(edge_name(Edge::top), "top");
  EXPECT_EQ(edge_name(Edge::right), "right");
  EXPECT_EQ(edge_name(Edge::bottom), "bottom");
  EXPECT_EQ(edge_name(Edge::left), "left");
  EXPECT_TRUE(is_vertical(Edge::left) && is_vertical(Edge::right));
  EXPECT_FALSE(is_vertical(Edge::top) || is_vertical(Edge::bottom));
}

}  // namespace
}  // namespace frisket
