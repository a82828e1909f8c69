// Every ticket in fixtures/tickets/bad and the words it is refused with.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <set>

#include "frisket/error.hpp"
#include "frisket/job.hpp"
#include "job/limit_table.hpp"

namespace frisket {
namespace {

namespace fs = std::filesystem;
using testing::AllOf;
using testing::HasSubstr;
using testing::StartsWith;
using testing::ThrowsMessage;

const fs::path bad_folder = fs::path(FRISKET_SOURCE_DIR) / "fixtures" / "tickets" / "bad";

struct BadTicketRow {
  const char *file, *words, *more = "";
};

const std::array bad_tickets{
    BadTicketRow{"unknown-key", "\"bleeds\" is not a known key", "did you mean \"bleed\"?"},
    BadTicketRow{"unknown-nested-key", "\"safe.rihgt\" is not a known key", "did you mean \"right\"?"},
    BadTicketRow{"dotted-key", "\"resolution.least\" is not a known key", "did you mean \"resolution\"?"},
    BadTicketRow{"wrong-type", "\"bleed\" is true; expected a length, as a bare number (then in mm)"},
    BadTicketRow{"marks-as-text", "\"marks\" is \"yes\"; expected true"},
    BadTicketRow{"negative-bleed", "\"bleed\" is -0.125; expected a length from 0 in to"},
    BadTicketRow{"nan", "no valid JSON: line 2, column 12", "\"bleed\": N"},
    BadTicketRow{"infinity", "no valid JSON: line 1, column 53", "\"bleed\": I"},
    BadTicketRow{"number-too-large", "no valid JSON: number overflow", "1e400"},
    BadTicketRow{"nan-text", "\"bleed\" is \"nan\"; expected a length"},
    BadTicketRow{"panels-do-not-add-up",
                 "\"folds\": the panels 3.6875, 3.6875, 3.6875 in add up to 11.0625 in",
                 "right would be 3.6875, 3.6875, 3.625 in"},
    BadTicketRow{"equal-letter-panels", "\"folds\": equal panels (3.6875 in) do not fold as a letter fold",
                 "right would be 3.71875, 3.71875, 3.625 in"},
    BadTicketRow{"outside-not-mirrored", "\"folds.outside_panels\" is 3.6875, 3.6875, 3.625 in",
                 "3.625, 3.6875, 3.6875 in as seen on the outside"},
    BadTicketRow{"safe-over-half", "\"safe\" is 4.5 in at the top, half the trim height of 8.5 in or more",
                 "less than 4.25 in"},
    BadTicketRow{"no-version", "\"frisket_ticket\" is missing; expected \"frisket_ticket\": 1"},
    BadTicketRow{"other-version", "\"frisket_ticket\" is 2; expected 1"},
    BadTicketRow{"version-as-text", "\"frisket_ticket\" is \"1\"; expected 1"},
    BadTicketRow{"no-trim", "\"trim\" is missing; expected the page size"},
    BadTicketRow{"trim-of-three", "\"trim\" is [210,297,1]; expected width and height"},
    BadTicketRow{"trim-of-nothing", "\"trim[0]\" is 0; expected a length from 1 mm"},
    BadTicketRow{"trim-huge", "\"trim\" is \"297x21000mm\"; expected two sides from 1 mm to 10000 mm"},
    BadTicketRow{"trim-unknown-name", "\"trim\" is \"leter\"", "did you mean \"letter\"?"},
    BadTicketRow{"trim-unknown-unit", "\"trim\": '8.5inch' is not a length"},
    BadTicketRow{"unknown-unit", "\"unit\" is \"inch\"; expected one of mm, cm, in, pt"},
    BadTicketRow{"unknown-fold", "\"folds.kind\" is \"lettre\"", "did you mean \"letter\"?"},
    BadTicketRow{"fold-without-kind", "\"folds\" is {\"tucked\":\"left\"}; expected a \"kind\" of fold"},
    BadTicketRow{"count-of-letter", "\"folds.count\" does not go with a fold of kind \"letter\""},
    BadTicketRow{"count-of-one-and-a-half", "\"folds.count\" is 3.5; expected a whole number from 3 to 60"},
    BadTicketRow{"tucked-up", "\"folds.tucked\" is \"top\"; expected one of left, right"},
    BadTicketRow{"panel-of-nothing", "\"folds.panels[1]\" is 0; expected a length"},
    BadTicketRow{"unknown-turn", "\"turn\" is \"work-and-turn\"; expected one of head-to-head, head-to-foot"},
    BadTicketRow{"three-edges", "\"bleed\" is {", "\"left\" is missing"},
    BadTicketRow{"dpi-zero", "\"dpi\" is 0; expected a number from 10 to 10000"},
    BadTicketRow{"dpi-text", "\"dpi\" is \"300\"; expected a number"},
    BadTicketRow{"least-above-wanted", "\"resolution.least\" is above resolution.wanted (250 and 200 ppi)"},
    BadTicketRow{"screen-and-wanted", "\"resolution\" says it in more than one way"},
    BadTicketRow{"quality-too-low", "\"resolution.quality\" is 1.2; expected a number from 1.41 to 4"},
    BadTicketRow{"quality-alone", "\"resolution.quality\" needs \"screen\" beside it"},
    BadTicketRow{"line-art-text", "\"resolution.line_art\" is \"fine\"; expected a number from 10 to 10000"},
    BadTicketRow{"resolution-number", "\"resolution\" is 300; expected an object"},
    BadTicketRow{"viewing-distance-in-feet",
                 "\"resolution.viewing_distance\" is \"3 ft\"; expected a length"},
    BadTicketRow{"page-side", "\"pages[0].side\" is \"front\"; expected one of inside, outside"},
    BadTicketRow{"page-without-file", "\"pages[0]\" is {\"side\":\"inside\"}; expected a \"file\""},
    BadTicketRow{"page-as-text", "\"pages[0]\" is \"a.png\"; expected an object"},
    BadTicketRow{"cover-and-folds", "\"folds\" does not go with a cover"},
    BadTicketRow{"cover-without-kind", "\"cover\" is {\"pages\":100}; expected an object with a \"kind\""},
    BadTicketRow{"cover-unknown-kind",
                 "\"cover.kind\" is \"spiral\"; expected one of perfect, saddle, jacket, case"},
    BadTicketRow{"cover-without-paper", "\"cover\": says too little for the width of the spine",
                 "\"caliper\", or"},
    BadTicketRow{"grammage-without-bulk", "\"cover\" has \"grammage\" but no \"bulk\" in cm3/g"},
    BadTicketRow{"paper-said-twice", "\"cover\" says the thickness of the paper more than once"},
    BadTicketRow{"odd-pages", "\"cover.pages\" is 101; expected an even number"},
    BadTicketRow{"saddle-of-six-pages", "\"cover.pages\" is 6; expected a multiple of 4"},
    BadTicketRow{"hinge-of-a-jacket", "\"cover.hinge\" does not go with a cover of kind \"jacket\""},
    BadTicketRow{"jacket-without-flap", "\"cover.flap\" is missing; expected the width of a flap"},
    BadTicketRow{"flap-too-wide",
                 "\"cover\": the flaps of 148 mm are as wide as the cover they fold into (148 mm)"},
    BadTicketRow{"case-without-board", "\"cover.board\" is missing; expected the thickness of a board"},
    BadTicketRow{"hinge-wider-than-page", "\"cover\": leaves 0 mm for the back cover"},
    BadTicketRow{"cover-unknown-key", "\"cover.page\" is not a known key", "did you mean \"pages\"?"},
    BadTicketRow{"spine-of-nothing", "\"cover.spine\" is 0; expected a length from 0.1 mm"},
    BadTicketRow{"key-twice", "\"bleed\" is given twice"},
    BadTicketRow{"an-array", "holds an array; expected a JSON object"},
    BadTicketRow{"cut-short", "no valid JSON: line 2, column 1", "unexpected end of input"},
    BadTicketRow{"empty", "is empty; expected a JSON object"},
    BadTicketRow{"missing-printer",
                 "\"printer\": ", "no-such-press.json: there is no such file; put it beside"},
    BadTicketRow{"accepted-no-list", "\"accepted\" is {", "expected a list of findings"},
    BadTicketRow{"accepted-without-who", "\"accepted[0]\" is {", "expected a \"who\""},
    BadTicketRow{"accepted-without-why", "\"accepted[0].why\" is \"\"; expected a text"},
    BadTicketRow{"accepted-place-as-text", "\"accepted[0].box_mm\" is \"top left\"; expected a box like"},
    BadTicketRow{"accepted-place-without-height", "\"accepted[0].box_mm\" is {", "expected all four of"},
    BadTicketRow{"accepted-unknown-key", "\"accepted[0].until\" is not a known key"},
    BadTicketRow{"printer-with-trim", "\"trim\" is not a known key"}};

TEST(BadTickets, AreNamedWithKeyAndValueAndWhatWasExpected) {
  for (const BadTicketRow& row : bad_tickets) {
    const fs::path file = bad_folder / (std::string(row.file) + ".json");
    EXPECT_THAT([&] { read_job(file, {}, test_limits); },
                ThrowsMessage<Error>(
                    AllOf(StartsWith(bad_folder.string()), HasSubstr(row.words), HasSubstr(row.more))))
        << row.file;
  }
}

TEST(BadTickets, AreAllInTheTable) {
  std::set<std::string> files, rows;
  for (const auto& entry : fs::directory_iterator(bad_folder))
    if (entry.path().extension() == ".json") files.insert(entry.path().stem());
  for (const BadTicketRow& row : bad_tickets) rows.insert(row.file);
  EXPECT_EQ(files, rows);
}

}  // namespace
}  // namespace frisket
