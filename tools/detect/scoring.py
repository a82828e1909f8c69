"""Holds the findings of a page against its truth."""
from dataclasses import dataclass, field

from truth import box_of

LEAST_OVERLAP = 0.5  # of whole_mm with the true element, intersection over union
THIN = 0.6  # mm: lines are compared at least so thick, for their position and length
JUDGED = ("fix", "review")
NOT_MEASURED_HERE = ("resolution",)


@dataclass
class Score:
    """What became of one page."""

    found: list = field(default_factory=list)  # (fault, finding)
    missed: list = field(default_factory=list)  # (fault, why)
    false: list = field(default_factory=list)  # findings that answer to no fault
    repeats: list = field(default_factory=list)  # findings on a fault that has its own already

    @property
    def right(self):
        return not (self.missed or self.false or self.repeats)


def overlap(fault, finding):
    box = box_of(finding["whole_mm"])
    if fault.thin:
        return max(box.grown(THIN / 2).overlap(whole.grown(THIN / 2)) for whole in fault.wholes)
    return max(box.overlap(whole) for whole in fault.wholes)


def answers(fault, finding):
    """None where the finding is the fault's, else the first thing about it that is not right."""
    if finding["check"] != fault.check:
        return "another check"
    if fault.edges and finding["edge"] not in fault.edges:
        return "another edge"
    if fault.fold and finding["fold"] != fault.fold:
        return "another fold"
    if overlap(fault, finding) <= LEAST_OVERLAP:
        return "a box too small or too large"
    return None if finding["severity"] in fault.severities else "another severity"


def touches(fault, finding):
    return any(box_of(finding["whole_mm"]).grown(0.3).meets(whole) for whole in fault.wholes)


def is_other_edge(fault, finding, first):
    """In a corner each of the two edges may have its finding."""
    return isinstance(fault.measured, dict) and finding["edge"] != first["edge"] and answers(fault, finding) is None


def score(report, faults):
    """Found means: the right check, edge or fold, severity, and a whole that overlaps the true one enough."""
    result = Score()
    findings = [
        f for f in report["findings"] if f["severity"] in JUDGED and f["check"] not in NOT_MEASURED_HERE
    ]
    unassessed = {c["check"]: c.get("why") for c in report["checks"] if c["outcome"] == "not-assessed"}
    left = list(findings)
    for fault in faults:
        right = [f for f in left if answers(fault, f) is None]
        if right:
            best = max(right, key=lambda f: overlap(fault, f))
            left.remove(best)
            if not fault.faint:
                result.found.append((fault, best))
        elif not fault.faint:
            result.missed.append((fault, why_missed(fault, findings, unassessed)))
    for finding in left:
        near = [fault for fault in faults if touches(fault, finding)]
        if not near:
            result.false.append(finding)
        elif any(fault is f and not is_other_edge(fault, finding, first) for fault in near for f, first in result.found):
            result.repeats.append(finding)
    return result


def why_missed(fault, findings, unassessed):
    if fault.check in unassessed:
        return "not assessed"
    near = [answers(fault, f) for f in findings if touches(fault, f)]
    for why in (
        "another severity",
        "a box too small or too large",
        "another edge",
        "another fold",
        "another check",
    ):
        if why in near:
            return why
    return "nothing found there"


def error_of(fault, finding):
    """mm between what was measured and what was planted; None where there is nothing single to measure."""
    true = fault.measured.get(finding["edge"]) if isinstance(fault.measured, dict) else fault.measured
    if true is None or finding.get("measured_mm") is None:
        return None
    return abs(finding["measured_mm"] - true)
