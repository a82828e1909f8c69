#pragma once

#include <filesystem>

namespace frisket {

/// Creates `folder` where it does not exist and makes sure that files can be created in it; leaves none
/// behind. Throws Error that names the folder and the reason. A full disk is no fault of the folder and is
/// not told here.
void prepare_output_folder(const std::filesystem::path& folder);

}  // namespace frisket
