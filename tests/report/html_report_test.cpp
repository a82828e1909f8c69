#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <map>
#include <random>
#include <regex>

#include "frisket/report.hpp"
#include "report/base64.hpp"
#include "report/closeup.hpp"
#include "report/html_contact.hpp"
#include "report/html_panels.hpp"
#include "report/sample_report.hpp"
#include "scratch_folder.hpp"

namespace frisket {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

constexpr const char* hostile =
    "</title></template><!--/page--><script>alert(1)</script>\" onload='x\x1b.png";

std::string text_of(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++count;
  return count;
}

Report faulty_report() {
  Report report = clear_report(leaflet_job(), 100, Side::outside);
  add_findings(report, {headline_finding(), bleed_finding(), fold_finding(), ppi_finding()});
  return report;
}

std::string html_of(const Report& report) { return report_html(sample_raster(report), report); }

// RFC 4648, section 10: the test vectors.
TEST(Base64, IsThatOfTheStandard) {
  const auto encoded = [](const std::string& text) {
    return base64({reinterpret_cast<const std::uint8_t*>(text.data()), text.size()});
  };
  EXPECT_EQ(encoded(""), "");
  EXPECT_EQ(encoded("f"), "Zg==");
  EXPECT_EQ(encoded("fo"), "Zm8=");
  EXPECT_EQ(encoded("foo"), "Zm9v");
  EXPECT_EQ(encoded("foob"), "Zm9vYg==");
  EXPECT_EQ(encoded("fooba"), "Zm9vYmE=");
  EXPECT_EQ(encoded("foobar"), "Zm9vYmFy");
}

TEST(HtmlReport, NamesLimitsAsPeopleDoAndNotAsTicketsDo) {
  Report report = faulty_report();
  report.job.limits = Limits::standard(all_limits());
  const std::string html = html_of(report);
  EXPECT_THAT(html, HasSubstr("Line art wanted"));
  const std::regex key("<th[^>]*>[^<]*[._][^<]*</th>");
  EXPECT_FALSE(std::regex_search(html, key)) << "a limit is called by its key";
}

TEST(HtmlReport, SaysWhatWasFoundAndAgainstWhat) {
  const std::string html = html_of(faulty_report());
  for (const Finding& finding : faulty_report().findings) {
    EXPECT_THAT(html, HasSubstr(finding.message));
    EXPECT_THAT(html, HasSubstr(finding.advice));
  }
  EXPECT_EQ(count_of(html, "class=\"closeup\""), 4U);
  EXPECT_THAT(html, HasSubstr("Brightwater Ferries, summer"));
  EXPECT_THAT(html, HasSubstr("<td>0.125 in</td>\n<td>the printer&#39;s file</td>"));
  EXPECT_THAT(html, HasSubstr("To mend before printing"));
}

TEST(HtmlReport, AsksForNothingFromOutside) {
  const std::string html = html_of(faulty_report());
  for (const std::string reference : {"href=\"", "src=\""})
    for (std::size_t at = html.find(reference); at != std::string::npos; at = html.find(reference, at + 1)) {
      const std::string target = html.substr(at + reference.size(), 16);
      EXPECT_TRUE(target.starts_with("#") || target.starts_with("data:image/webp")) << target;
    }
  EXPECT_THAT(html, HasSubstr("default-src 'none'"));
  EXPECT_THAT(html, Not(HasSubstr("unsafe-inline")));
}

TEST(HtmlReport, ShowsHostileTextAsText) {
  Report report = faulty_report();
  report.page.file = hostile;
  report.job.name = hostile;
  report.job.outside.panels.front().name = hostile;
  report.findings.front().message = hostile;
  report.findings.front().advice = hostile;
  report.findings.front().panel_name = hostile;
  report.checks.front() = {"page-size", CheckResult::State::not_assessed, hostile};
  const std::string html = report_html(sample_raster(report), report, {hostile});
  EXPECT_EQ(count_of(html, "<script>"), 1U);
  EXPECT_EQ(count_of(html, "<!--/page-->"), 1U);
  EXPECT_THAT(html, Not(HasSubstr("<script>alert")));
  EXPECT_THAT(html, Not(HasSubstr("\" onload")));
  EXPECT_THAT(html, Not(HasSubstr("\x1b")));
  EXPECT_THAT(html, HasSubstr("&lt;script&gt;alert(1)&lt;/script&gt;"));
}

/// Noise is what compresses worst.
TEST(HtmlReport, StaysBelowAMegabyteForAnyPage) {
  Report report = clear_report(leaflet_job(), 300, Side::outside);
  add_findings(report, scattered_findings(report, 80, 7));
  Raster raster = sample_raster(report);
  std::mt19937 random(3);
  for (std::uint8_t& value : raster.rgb) value = static_cast<std::uint8_t>(random());
  EXPECT_LT(report_html(raster, report).size(), 1'000'000U);
}

/// Of a page with more findings than it has room for, all are told and drawn, the first from near as well.
TEST(HtmlReport, SaysWhereThereIsNoRoomForCloseups) {
  Report report = clear_report(leaflet_job(), 100, Side::outside);
  add_findings(report, scattered_findings(report, 150, 7));
  const std::string html = html_of(report);
  EXPECT_LT(html.size(), 1'000'000U);
  const std::size_t closeups = count_of(html, "class=\"closeup\"");
  EXPECT_GE(closeups, 20U);
  EXPECT_THAT(html,
              HasSubstr("no room here for close-ups of " + std::to_string(150 - closeups) + " of them"));
  EXPECT_EQ(count_of(html, "data-goto=\""), 150U);
  EXPECT_THAT(html_of(faulty_report()), Not(HasSubstr("no room here")));
}

TEST(HtmlReport, TellsWhoAcceptedWhat) {
  Report report = faulty_report();
  report.findings.front().accepted = {"as the <client> wishes", "M. Orr"};
  const std::string html = html_of(report);
  EXPECT_THAT(html, HasSubstr("Accepted by M. Orr: as the &lt;client&gt; wishes."));
  EXPECT_THAT(html, HasSubstr("accepted · safe-zone"));
  EXPECT_THAT(html, HasSubstr("1 accepted"));
  EXPECT_THAT(html_of(faulty_report()), HasSubstr("<figcaption>front cover: 1 finding<"));
  EXPECT_THAT(html, HasSubstr("<figcaption>front cover<"));
}

TEST(HtmlReport, IsTheSameTwice) { EXPECT_EQ(html_of(faulty_report()), html_of(faulty_report())); }

TEST(HtmlReport, ShowsAPageThatFitsNothing) {
  Report report = clear_report(leaflet_job(), 100, Side::outside);
  report.trim_px = {};
  report.px_per_mm = 0;
  Finding size = headline_finding();
  size.kind = "size-differs";
  size.box = size.whole = {};
  add_findings(report, {size});
  const std::string html = html_of(report);
  EXPECT_THAT(html, HasSubstr(size.message));
  EXPECT_THAT(html, Not(HasSubstr("class=\"closeup\"")));
  EXPECT_THAT(html, Not(HasSubstr("data-goto=\"")));
}

TEST(RunReport, SortsPagesByVerdictAndNamesThoseThatFailed) {
  const ScratchFolder folder;
  Report clear = clear_report(leaflet_job(), 50, Side::inside);
  clear.page.file = "calm.png";
  write_file(folder / "calm.html", html_of(clear));
  write_file(folder / "loud.html", html_of(faulty_report()));
  const std::vector<ReportPart> parts{{folder / "calm.html", "calm.png", ""},
                                      {folder / "loud.html", "outside.png", ""},
                                      {folder / "none.html", hostile, "cut <short>"}};
  write_run_report(folder / "report.html", "A run", parts);
  const std::string html = text_of(folder / "report.html");
  EXPECT_THAT(html,
              HasSubstr("3 pages: 1 to mend before printing, 1 could not be inspected, 1 with nothing"));
  const std::size_t failed = html.find("data-verdict=\"failed\""), fix = html.find("data-verdict=\"fix\""),
                    good = html.find("data-verdict=\"clear\"");
  EXPECT_LT(failed, fix);
  EXPECT_LT(fix, good);
  EXPECT_THAT(html, HasSubstr("cut &lt;short&gt;"));
  EXPECT_EQ(count_of(html, "<article"), 2U);
  EXPECT_EQ(count_of(html, "<h2>The job</h2>"), 1U);
  EXPECT_EQ(count_of(html, "<script>"), 1U);
}

/// Both sides of a leaflet as one piece, opened panel by panel; the sides have no panels of their own then.
TEST(RunReport, ReadsTheFoldedPieceAcrossItsSides) {
  const ScratchFolder folder;
  std::vector<ReportPart> parts;
  for (const Side side : {Side::outside, Side::inside}) {
    Report report = clear_report(leaflet_job(), 50, side);
    report.page.file = std::string(side_name(side)) + ".png";
    write_file(folder / report.page.file, html_of(report));
    parts.push_back({folder / report.page.file, report.page.file, ""});
  }
  write_run_report(folder / "report.html", "", parts);
  const std::string html = text_of(folder / "report.html");
  std::size_t at = html.find("<h2>The folded piece</h2>");
  ASSERT_NE(at, std::string::npos);
  const std::string piece = html.substr(at);
  at = 0;
  for (const std::string name :
       {"front cover", "tucked panel", "inside left", "inside centre", "inside right", "back cover"}) {
    const std::size_t next = piece.find("<figcaption>" + name);
    ASSERT_NE(next, std::string::npos) << name;
    EXPECT_GE(next, at) << name;
    at = next;
  }
  EXPECT_EQ(count_of(html, "<figcaption>"), 6U);
  // A third page: nobody knows which two belong to one piece.
  parts.push_back(parts.front());
  write_run_report(folder / "report.html", "", parts);
  EXPECT_THAT(text_of(folder / "report.html"), Not(HasSubstr("The folded piece")));
}

/// Pages of two runs may be called alike.
TEST(RunReport, GivesEveryPageAnIdOfItsOwn) {
  const ScratchFolder folder;
  write_file(folder / "a.html", html_of(faulty_report()));
  write_file(folder / "b.html", html_of(faulty_report()));
  const std::vector<ReportPart> parts{{folder / "a.html", "a.png", ""}, {folder / "b.html", "a.png", ""}};
  write_run_report(folder / "report.html", "", parts);
  const std::string html = text_of(folder / "report.html");
  std::map<std::string, int> ids;
  for (std::size_t at = html.find(" id=\""); at != std::string::npos; at = html.find(" id=\"", at + 1))
    ++ids[html.substr(at + 5, html.find('"', at + 5) - at - 5)];
  EXPECT_GE(ids.size(), 4U);
  for (const auto& [id, count] : ids) {
    EXPECT_EQ(count, 1) << id;
    if (!id.ends_with("-picture")) continue;
    EXPECT_GE(count_of(html, "href=\"#" + id + "\""), 3U) << id;
  }
}

TEST(RunReport, CountsByCheck) {
  std::vector<ContactCard> cards;
  for (const char* counts : {"safe-zone:2 bleed:0 folds:?", "safe-zone:1 bleed:0 folds:0", ""})
    cards.push_back({"<li data-counts=\"" + std::string(counts) + "\">", "fix"});
  const auto counts = counts_by_check(cards);
  EXPECT_EQ(counts.at("safe-zone").findings, 3U);
  EXPECT_EQ(counts.at("safe-zone").pages, 2U);
  EXPECT_EQ(counts.at("folds").not_assessed, 1U);
  const std::string html = html_contact_sheet(cards, false);
  EXPECT_THAT(html, HasSubstr("<dt>safe-zone</dt>\n<dd>3 findings on 2 pages</dd>"));
  EXPECT_THAT(html, HasSubstr("<dt>bleed</dt>\n<dd>nothing found</dd>"));
  EXPECT_THAT(html, HasSubstr("<dt>folds</dt>\n<dd>not assessed on 1 page</dd>"));
}

TEST(RunReport, NamesAPartThatIsNoReport) {
  const ScratchFolder folder;
  write_file(folder / "other.html", std::string("<p>something else</p>"));
  const std::vector<ReportPart> parts{{folder / "other.html", "a.png", ""}};
  EXPECT_THROW(write_run_report(folder / "report.html", "", parts), Error);
  EXPECT_FALSE(std::filesystem::exists(folder / "report.html"));
}

TEST(Closeup, IsLeftOutWhereThePageItselfIsAsNear) {
  const Report report = clear_report(leaflet_job(), 300, Side::outside);
  Finding unknown = ppi_finding();
  unknown.measured_ppi.reset();
  EXPECT_TRUE(plan_closeup(unknown, report));
  unknown.box = {Length(), Length(), report.job.trim.width, report.job.trim.height};
  EXPECT_FALSE(plan_closeup(unknown, report));
}

/// Everything that the dimension speaks of is in the picture, whatever the edge.
TEST(Closeup, HoldsTheLinesAndTheInk) {
  const Report report = clear_report(leaflet_job(), 300, Side::outside);
  for (const Finding& finding : scattered_findings(report, 40, 11)) {
    const auto closeup = plan_closeup(finding, report);
    ASSERT_TRUE(closeup);
    const PixelRect edge = report.to_pixels(along_edge(*finding.edge, report.job.trim, {}, *finding.required,
                                                       finding.box.x, finding.box.right()));
    EXPECT_EQ(closeup->along_x, is_vertical(*finding.edge));
    if (closeup->along_x) {
      EXPECT_LT(closeup->area.x, edge.x);
      EXPECT_GT(closeup->area.right(), edge.right());
    } else {
      EXPECT_LT(closeup->area.y, edge.y);
      EXPECT_GT(closeup->area.bottom(), edge.bottom());
    }
    EXPECT_NEAR(closeup->area.width / closeup->width, closeup->area.height / closeup->height, 1e-6);
  }
}

TEST(Panels, AreReadFromTheFrontCoverToTheBack) {
  const Job job = leaflet_job();
  EXPECT_THAT(reading_order(job.outside), ElementsAre(2, 0, 1));
  EXPECT_THAT(reading_order(job.inside), ElementsAre(0, 1, 2));
}

TEST(Panels, OfARollAreReadAsItIsUnrolled) {
  SideLayout side;
  for (const char* name : {"tucked panel 2", "tucked panel 1", "turn-in", "back cover", "front cover"})
    side.panels.push_back({name, {}});
  EXPECT_THAT(reading_order(side), ElementsAre(4, 1, 0, 3));
}

TEST(Panels, OfBothSidesAreReadAsThePieceOpens) {
  const auto rising = [](const std::vector<const char*>& names) {
    return std::ranges::is_sorted(names, {}, reading_rank);
  };
  EXPECT_TRUE(rising({"front cover", "inside left", "inside centre", "outside left", "back cover"})) << "z";
  EXPECT_TRUE(
      rising({"front cover, left half", "front cover, right half", "inside left gate", "back cover"}));
  EXPECT_TRUE(rising({"front cover", "first spread, left", "first spread, right", "inside top left"}));
  EXPECT_TRUE(rising({"front cover", "front flap", "inside front flap", "spine", "back flap", "back cover"}));
}

}  // namespace
}  // namespace frisket
