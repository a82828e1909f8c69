#pragma once

#include <optional>
#include <string>

#include "frisket/report.hpp"

namespace frisket {

/// Reads "2/8". Throws Error.
Shard parse_shard(const std::string& text);

/// Whether a file called `name` is in this share; always where there is none. Which share a name is in
/// depends on the name alone, so that shares stay what they are when files come and go.
bool is_in(const std::optional<Shard>& shard, const std::string& name);

/// "summary.json", or "summary-2-of-8.json".
std::string with_part(const std::string& file_name, const std::optional<Shard>& shard);

}  // namespace frisket
