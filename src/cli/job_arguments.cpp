#include "cli/job_arguments.hpp"

#include <algorithm>
#include <array>
#include <cctype>

#include "frisket/check.hpp"

namespace frisket {
namespace {

struct FlagText {
  const char* names;
  const char* key;
  const char* help;
  const char* value = "VALUE";
};

constexpr std::array<FlagText, 6> job_flags{{
    {"--trim", "trim", "Flat trimmed size: 11x8.5in, \"A4 landscape\", letter", "SIZE"},
    {"--fold,--folds", "folds",
     "Folds: half, letter, z, gate, double-gate, roll, double-parallel, cross, or panel widths 99,99,99mm"},
    {"--unit", "unit", "Unit of bare numbers and of messages: mm, cm, in or pt"},
    {"--dpi", "dpi", "Resolution of the pages where the file does not say it, or says it wrongly", "N"},
    {"--marks", "marks",
     "Find the trim by printed crop marks: yes, or no (default: where the page is not the job's size)"},
    {"--turn", "turn", "How the other side is reached: head-to-head or head-to-foot"},
}};

/// "resolution.least" becomes "--resolution-least".
std::string flag_name(const LimitSpec& spec) {
  std::string name = "--" + std::string(spec.key);
  std::ranges::replace(name, '_', '-');
  std::ranges::replace(name, '.', '-');
  return name;
}

std::string default_text(const LimitSpec& spec) {
  if (spec.kind != LimitKind::ppi) return to_text(Length::from_mm(spec.standard), Unit::millimetre);
  return std::to_string(static_cast<int>(spec.standard)) + " ppi";
}

/// "How far colour must go on beyond the trim (default 3.0 mm)".
std::string help_text(const LimitSpec& spec) {
  std::string help = std::string(spec.help) + " (default " + default_text(spec) + ")";
  help.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(help.front())));
  return help;
}

void add_flag(CLI::App& command, JobArguments& arguments, const std::string& names, const std::string& key,
              const std::string& help, const std::string& type) {
  command
      .add_option_function<std::string>(
          names,
          [&arguments, key](const std::string& value) {
            arguments.flags.push_back({key, value});
          },
          help)
      ->type_name(type)
      ->group("Job");
}

}  // namespace

bool JobArguments::has(std::string_view key) const {
  return std::ranges::any_of(flags, [&](const JobFlag& flag) { return flag.key == key; });
}

void add_job_options(CLI::App& command, JobArguments& arguments, const std::string& without_ticket) {
  command
      .add_option_function<std::string>(
          "--ticket", [&arguments](const std::string& file) { arguments.ticket = file; },
          "The job ticket, a JSON file; flags override it" + without_ticket)
      ->type_name("FILE")
      ->group("Job");
  for (const FlagText& flag : job_flags)
    add_flag(command, arguments, flag.names, flag.key, flag.help, flag.value);
  for (const LimitSpec& spec : all_limits())
    add_flag(command, arguments, flag_name(spec), std::string(spec.key), help_text(spec),
             spec.kind == LimitKind::ppi ? "PPI" : "LENGTH");
}

Job read_checked_job(const std::filesystem::path& ticket, std::span<const JobFlag> flags) {
  Job job = read_job(ticket, flags, all_limits());
  try {
    require_known_kinds(job);
  } catch (const Error& error) {
    throw Error(ticket.string() + ": " + error.what());
  }
  return job;
}

Job job_of(const JobArguments& arguments) {
  if (arguments.ticket) return read_checked_job(*arguments.ticket, arguments.flags);
  if (!arguments.has("trim"))
    throw Error("no job given: add --ticket FILE, or --trim with the finished flat size");
  return job_from_flags(arguments.flags, all_limits());
}

}  // namespace frisket
