#include "cli/crew.hpp"

#include <poll.h>
#include <sys/prctl.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <iostream>

#include "cli/interrupt.hpp"
#include "frisket/error.hpp"

namespace frisket {
namespace {

/// An answer is an error of a page, cut where it is longer: a message goes through the socket whole or not.
constexpr std::size_t longest_answer = 16'384;

template <class Call>
ssize_t unless_disturbed(Call call) {
  ssize_t result = call();
  while (result < 0 && errno == EINTR) result = call();
  return result;
}

std::string how_it_ended(int status) {
  if (WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL)
    return "the system ended its inspection, most likely for want of memory; give fewer --jobs or a smaller "
           "--memory";
  if (WIFSIGNALED(status) && (WTERMSIG(status) == SIGABRT || WTERMSIG(status) == SIGTRAP))
    return "its inspection gave up (" + std::string(strsignal(WTERMSIG(status))) +
           "), most likely for want of memory: it takes far more than its size says; export it simpler";
  if (WIFSIGNALED(status))
    return "its inspection crashed (" + std::string(strsignal(WTERMSIG(status))) +
           "): the file may be damaged; export it again";
  return "its inspection ended early; run it again";
}

}  // namespace

Crew::~Crew() {
  for (Hand& hand : crew_) {
    if (hand.process < 0) continue;
    kill(hand.process, SIGKILL);
    end_of(hand);
  }
}

std::size_t Crew::working() const {
  return static_cast<std::size_t>(std::ranges::count_if(crew_, &Hand::busy));
}

Crew::Hand& Crew::free_hand() {
  const auto found = std::ranges::find_if(crew_, [](const Hand& hand) { return !hand.busy; });
  return found != crew_.end() ? *found : crew_.emplace_back();
}

void Crew::start(Hand& hand) {
  std::array<int, 2> ends{};
  if (socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, ends.data()) != 0)
    throw Error(std::string("no further process can be started: ") + std::strerror(errno) +
                "; give fewer --jobs");
  std::cout.flush();
  const pid_t parent = getpid();
  const pid_t process = fork();
  if (process == 0) {
    // A child never outlives the run, so that a killed run cannot write into a later one.
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (getppid() != parent) _exit(0);
    for (const Hand& other : crew_)
      if (other.line >= 0) close(other.line);
    close(ends[0]);
    serve(ends[1]);
  }
  const int error = errno;
  close(ends[1]);
  if (process > 0) {
    hand.process = process;
    hand.line = ends[0];
    return;
  }
  close(ends[0]);
  throw Error(std::string("no further process can be started: ") + std::strerror(error) +
              "; give fewer --jobs");
}

void Crew::serve(int line) const {
  take_interrupts_from_parent();
  for (std::size_t piece = 0;;) {
    if (unless_disturbed([&] { return recv(line, &piece, sizeof piece, 0); }) != sizeof piece) _exit(0);
    std::string answer = work_(piece);
    answer.resize(std::min(answer.size(), longest_answer));
    // An empty message would look like the end of the line.
    answer.insert(answer.begin(), '+');
    if (unless_disturbed([&] { return send(line, answer.data(), answer.size(), MSG_NOSIGNAL); }) < 0)
      _exit(1);
  }
}

void Crew::give(std::size_t piece, double seconds) {
  Hand& hand = free_hand();
  if (hand.process < 0) start(hand);
  hand.piece = piece;
  hand.allowance = Allowance(hand.process, seconds);
  hand.busy = true;
  // A child that died in between is told by wait().
  unless_disturbed([&] { return send(hand.line, &piece, sizeof piece, MSG_NOSIGNAL); });
}

std::vector<Crew::Done> Crew::wait(int timeout_ms) {
  std::vector<pollfd> lines;
  for (const Hand& hand : crew_) lines.push_back({hand.busy ? hand.line : -1, POLLIN, 0});
  std::vector<Done> done;
  const bool news = poll(lines.data(), lines.size(), timeout_ms) > 0;
  for (std::size_t i = 0; i < crew_.size(); ++i) {
    if (crew_[i].busy && news && lines[i].revents != 0)
      done.push_back(collect(crew_[i]));
    else if (crew_[i].busy && crew_[i].allowance.used_up())
      done.push_back(give_up(crew_[i]));
  }
  return done;
}

Crew::Done Crew::give_up(Hand& hand) {
  Done done{hand.piece, hand.allowance.sentence(), true};
  kill(hand.process, SIGKILL);
  end_of(hand);
  return done;
}

Crew::Done Crew::collect(Hand& hand) {
  std::string answer(longest_answer + 1, '\0');
  const ssize_t got = unless_disturbed([&] { return recv(hand.line, answer.data(), answer.size(), 0); });
  hand.busy = false;
  if (got <= 0) return {hand.piece, end_of(hand), true};
  return {hand.piece, answer.substr(1, static_cast<std::size_t>(got) - 1), false};
}

std::string Crew::end_of(Hand& hand) {
  int status = 0;
  unless_disturbed([&] { return waitpid(hand.process, &status, 0); });
  close(hand.line);
  hand = {};
  return how_it_ended(status);
}

void Crew::interrupt() {
  for (const Hand& hand : crew_)
    if (hand.busy) kill(hand.process, SIGTERM);
}

}  // namespace frisket
