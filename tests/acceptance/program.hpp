#pragma once

#include <csignal>
#include <cstdlib>
#include <string>
#include <vector>
#include <vips/vips8>

#include "frisket/geometry.hpp"
#include "scratch_folder.hpp"

namespace frisket {

/// What a run of the program came to.
struct Ran {
  int status = -1;  ///< exit status; 128 + signal where a signal ended it
  std::string out, err;
};

/// Runs the built program in `folder` and waits for it. Where `interrupt_at` is not empty, Ctrl-C is pressed
/// (SIGINT sent) as soon as that file exists.
Ran run_frisket(const std::filesystem::path& folder, const std::vector<std::string>& arguments,
                const std::filesystem::path& interrupt_at = {});

/// Runs a line of sh in `folder`; "$FRISKET" is the program.
Ran run_shell(const std::filesystem::path& folder, const std::string& line);

/// The job of the pages below, as flags: 60 x 40 mm, 3 mm bleed, 4 mm safe zone.
inline const std::vector<std::string> small_job{"--trim", "60x40mm", "--bleed", "3mm", "--safe", "4mm"};

/// `command` with the flags of the small job and `more`.
std::vector<std::string> with_job(std::vector<std::string> command,
                                  const std::vector<std::string>& more = {});

/// A white page of 66 x 46 mm (bleed and all) at 300 dpi with black boxes, given in mm from the trim corner.
vips::VImage small_page(const std::vector<Rect>& black_boxes = {});

/// Writes a page as PNG with its resolution.
void save_png(const vips::VImage& page, const std::filesystem::path& file);

/// A box 2 mm from the top trim: one finding of the safe zone at fix.
inline const Rect intruder{Length::from_mm(20), Length::from_mm(2), Length::from_mm(12), Length::from_mm(6)};

/// Exit status of tools/validate_json over one document.
int validate_file(const std::string& schema, const std::filesystem::path& document);

}  // namespace frisket
