#pragma once

#include <concepts>

#include "opencv.hpp"

#if defined(__has_feature)
#if __has_feature(thread_sanitizer)
extern "C" void __tsan_acquire(void* address);
extern "C" void __tsan_release(void* address);
#define FRISKET_THREAD_SANITIZER
#endif
#endif

namespace frisket {

/// Tells the thread sanitizer, which does not see what OpenCV's threads pass to each other, that the caller's
/// work comes before theirs and after it again. Between the threads themselves it says nothing: what one does
/// to another's data is still told.
class Handover {
 public:
#ifdef FRISKET_THREAD_SANITIZER
  void give() { __tsan_release(&given_); }
  void take() { __tsan_acquire(&given_); }
  void give_back() { __tsan_release(&done_); }
  void take_back() { __tsan_acquire(&done_); }

 private:
  char given_ = 0, done_ = 0;
#else
  void give() {}
  void take() {}
  void give_back() {}
  void take_back() {}
#endif
};

/// Calls `work(i)` for each i from 0 to below `count`, on all cores and in any order: it may write only what
/// no other i reads or writes.
template <std::integral Count, class Work>
void on_all_cores(Count count, Work&& work) {
  Handover handover;
  handover.give();
  cv::parallel_for_({0, static_cast<int>(count)}, [&](const cv::Range& range) {
    handover.take();
    for (int i = range.start; i < range.end; ++i) work(static_cast<Count>(i));
    handover.give_back();
  });
  handover.take_back();
}

}  // namespace frisket
