"""Whole runs of programs: how long they took by the wall clock, and their peak memory."""
import os
import statistics
import time
from dataclasses import dataclass, field


@dataclass
class Runs:
    """Of one program over one page."""

    seconds: list = field(default_factory=list)
    megabytes: list = field(default_factory=list)  # of the largest of its processes: ru_maxrss

    @property
    def median(self):
        return statistics.median(self.seconds)

    @property
    def peak(self):
        return max(self.megabytes)

    def as_json(self):
        return {"runs": len(self.seconds), "median_s": round(self.median, 4), "least_s": round(min(self.seconds), 4),
                "most_s": round(max(self.seconds), 4), "peak_mb": round(self.peak, 1)}


def run(command, expected=(0,)):
    """Seconds and megabytes of one run. What it prints is thrown away; another exit status than expected is an error.

    A child begins as a copy of this process, whose own memory counts for it until the program is loaded: so this one
    imports nothing large.
    """
    start = time.monotonic()
    child = os.posix_spawnp(command[0], [str(word) for word in command], os.environ,
                            file_actions=[(os.POSIX_SPAWN_OPEN, fd, "/dev/null", os.O_WRONLY, 0) for fd in (1, 2)])
    _, status, usage = os.wait4(child, 0)
    seconds = time.monotonic() - start
    if os.waitstatus_to_exitcode(status) not in expected:
        raise RuntimeError(f"{' '.join(map(str, command))}: ended with {os.waitstatus_to_exitcode(status)}")
    return seconds, usage.ru_maxrss * 1024 / 1e6


def interleaved(commands, times):
    """Runs of each of `commands` (name: (command, expected statuses)) by turns; `times` says how many of each."""
    taken = {name: Runs() for name in commands}
    for turn in range(max(times.values())):
        for name, (command, expected) in commands.items():
            if turn < times[name]:
                seconds, megabytes = run(command, expected)
                taken[name].seconds.append(seconds)
                taken[name].megabytes.append(megabytes)
    return taken
