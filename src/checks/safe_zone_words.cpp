#include "checks/safe_zone_words.hpp"

#include "checks/wording.hpp"

namespace frisket {
namespace {

constexpr Length review_up_to = Length::from_points(1.0);  // design: an intrusion of 1 pt or less

}  // namespace

std::string SafeZoneWords::second_place(const std::optional<SecondEdge>& corner) const {
  if (!corner) return "";
  const bool past = corner->distance < -noise;
  return " (and " + to_text(abs(corner->distance), job.unit) + (past ? " past the " : " from the ") +
         trim_edge_text(corner->edge) + ")";
}

std::string SafeZoneWords::second_way(const std::optional<SecondEdge>& corner) const {
  if (!corner) return "";
  return " and " + std::string(inwards_text(corner->edge)) + " by " +
         with_points(job.safe.at(corner->edge) - corner->distance, job.unit);
}

void SafeZoneWords::say_frame(Finding& finding, const std::string& edge, const std::string& move) const {
  finding.severity = Severity::review;
  finding.message =
      "Frame or rule runs " + to_text(*finding.measured, job.unit) + " inside the " + edge +
      (*finding.measured <= cut_tolerance
           ? ": the cut, good to " + to_exact_text(cut_tolerance, job.unit) + ", may take it off."
           : ": the cutting tolerance will make it look uneven.");
  finding.advice = move + ", or let it bleed.";
}

void SafeZoneWords::say(Finding& finding, Matter matter, const Together& lines) const {
  const Length lack = *finding.required - *finding.measured;
  const std::string subject = subject_text(matter, lines.count);
  const bool frame = finding.kind == "frame-near-trim", several = !frame && subject.ends_with(',');
  const std::string edge = trim_edge_text(*finding.edge) + second_place(lines.corner);
  const std::string move = std::string(several ? "Move them " : "Move it ") +
                           std::string(inwards_text(*finding.edge)) + " by " + with_points(lack, job.unit) +
                           second_way(lines.corner);
  if (frame) return say_frame(finding, edge, move);
  finding.severity = lack <= review_up_to + noise / 10.0 ? Severity::review : Severity::fix;
  if (finding.kind == "matter-cut") {
    const bool past = *finding.measured < -noise;
    finding.message =
        subject +
        (past ? (several ? " run " : " runs ") + to_text(-*finding.measured, job.unit) + " past the "
              : std::string(several ? " touch the " : " touches the ")) +
        edge + (several ? ": they will be cut." : ": it will be cut.");
    finding.advice = move + ".";
    return;
  }
  finding.message = subject + (several ? " are " : " is ") + to_text(*finding.measured, job.unit) +
                    " from the " + edge + "; keep " + to_exact_text(*finding.required, job.unit) + ".";
  finding.advice = move + (matter == Matter::text ? "."
                           : several              ? ", or let them bleed."
                                                  : ", or let it bleed.");
}

}  // namespace frisket
