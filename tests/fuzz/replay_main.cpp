// Runs a fuzz target without a fuzzer: over files, then over seeded changes to them. It sees no coverage; it
// is for the tests, where the same numbers must give the same run. usage: TARGET -runs=N -seed=N
// FILE_OR_FOLDER…
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <vector>

#include "scratch_folder.hpp"
#include "target.hpp"

namespace frisket {
namespace {

using Inputs = std::vector<std::string>;

void add(Inputs& inputs, const std::filesystem::path& path) {
  std::vector<std::filesystem::path> files{path};
  if (std::filesystem::is_directory(path)) {
    files.assign(std::filesystem::directory_iterator(path), {});
    std::ranges::sort(files);
  }
  for (const auto& file : files)
    if (std::filesystem::is_regular_file(file)) inputs.push_back(content_of(file));
}

void run(const std::string& input) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

/// One of the inputs with up to eight changes: a byte, a bit, a stretch cut out, doubled, or taken from
/// another.
std::string changed(const Inputs& inputs, std::mt19937& random) {
  std::string input = inputs[random() % inputs.size()];
  for (auto changes = random() % 8 + 1; changes > 0 && !input.empty(); --changes) {
    const std::size_t at = random() % input.size(), length = random() % 16 + 1;
    const auto kind = random() % 6;
    if (kind == 0) input[at] = static_cast<char>(random());
    if (kind == 1) input[at] = static_cast<char>(input[at] ^ (1U << random() % 8));
    if (kind == 2) input.erase(at, length);
    if (kind == 3) input.insert(at, input.substr(at, length));
    if (kind == 4) input.resize(at + 1);
    if (kind == 5) {
      const std::string& other = inputs[random() % inputs.size()];
      if (!other.empty()) input.insert(at, other.substr(random() % other.size(), length));
    }
  }
  return input;
}

}  // namespace
}  // namespace frisket

int main(int count, char** arguments) {
  long runs = 0;
  unsigned seed = 1;
  frisket::Inputs inputs;
  for (int i = 1; i < count; ++i) {
    const std::string argument = arguments[i];
    if (argument.starts_with("-runs="))
      runs = std::stol(argument.substr(6));
    else if (argument.starts_with("-seed="))
      seed = static_cast<unsigned>(std::stoul(argument.substr(6)));
    else
      frisket::add(inputs, argument);
  }
  frisket::require(!inputs.empty(), "there is something to begin with");
  for (const std::string& input : inputs) frisket::run(input);
  std::mt19937 random(seed);
  for (long i = 0; i < runs; ++i) frisket::run(frisket::changed(inputs, random));
  std::printf("%zu files and %ld changed ones\n", inputs.size(), runs);
}
