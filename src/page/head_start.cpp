#include "frisket/head_start.hpp"

#include <atomic>
#include <condition_variable>
#include <future>
#include <mutex>

#include "page/first_look.hpp"
#include "page/placing/placing.hpp"

namespace frisket {

/// A thread that looks at rows as they come.
struct HeadStart::Work {
  const Job& job;
  std::optional<double> dpi;
  std::optional<FirstLook> look{};
  std::mutex lock{};
  std::condition_variable news{};
  int rows = 0;
  std::atomic<bool> ended = false;
  std::future<void> worker{};  ///< last, so that it is waited for before all else goes

  /// Only pages that need not be cut out of their canvas, and only where there is a core to spare.
  void begin(const Raster& page) {
    dpi = dpi ? dpi : job.dpi ? job.dpi : page.file_dpi;
    if (!dpi || cv::getNumThreads() < 2) return;
    const Placing how = place(page.width, page.height, *dpi, job).how;
    if (how != Placing::by_bleed && how != Placing::by_trim) return;
    look.emplace(view_of(page), page.lossy, *dpi);
    worker = std::async(std::launch::async, [this] { run(); });
  }

  void run() {
    for (int seen = 0; !ended;) {
      {
        std::unique_lock locked(lock);
        news.wait(locked, [&] { return ended || rows > seen; });
        seen = rows;
      }
      bool busy = true;
      while (busy && !ended) {
        busy = look->zones.label_next(seen);
        busy |= look->texture.judge_next(seen);
      }
    }
  }

  void tell(int decoded, bool is_end) {
    {
      const std::lock_guard locked(lock);
      rows = decoded;
      ended = is_end;
    }
    news.notify_one();
  }
};

HeadStart::HeadStart(const Job& job, std::optional<double> dpi) : work_(new Work{job, dpi}) {}

HeadStart::~HeadStart() { decoding_ended(); }

void HeadStart::rows_decoded(const Raster& page, int rows) {
  if (work_->rows == 0) work_->begin(page);
  work_->tell(rows, false);
}

void HeadStart::decoding_ended() noexcept {
  work_->tell(work_->rows, true);
  if (work_->worker.valid()) work_->worker.wait();
}

FirstLook::FirstLook(const cv::Mat& page, bool lossy, double page_dpi)
    : rgb(page),
      dpi(page_dpi),
      zones(zones_for_surfaces(rgb, {page_dpi / mm_per_inch, lossy})),
      texture(rgb, page_dpi) {}

FirstLook first_look(const cv::Mat& rgb, bool lossy, double dpi, HeadStart* head_start) {
  if (head_start != nullptr) {
    HeadStart::Work& work = head_start->work();
    if (work.worker.valid()) work.worker.get();
    if (work.look && work.look->rgb.data == rgb.data && work.look->rgb.size() == rgb.size() &&
        work.look->dpi == dpi)
      return std::move(*work.look);
    work.look.reset();
  }
  return {rgb, lossy, dpi};
}

}  // namespace frisket
