#pragma once

#include <memory>

#include "frisket/decoding_watcher.hpp"
#include "frisket/page.hpp"

namespace frisket {

/// Begins the analysis of a page while its file is still decoded: a decoder keeps one core busy, the rows
/// that are there another. What is found does not depend on it.
///
///     HeadStart head_start(job, dpi_flag);
///     const Raster raster = open_page(file, 1, job.dpi, bounds, &head_start);
///     const Report report = inspect(raster, job, request, sink, &head_start);
class HeadStart : public DecodingWatcher {
 public:
  /// `dpi`: what the user gives, before what ticket and file say. `job` must outlive the object.
  explicit HeadStart(const Job& job, std::optional<double> dpi = {});
  ~HeadStart() override;

  void rows_decoded(const Raster& page, int rows) override;
  void decoding_ended() noexcept override;

  struct Work;  ///< private to the library (src/page/first_look.hpp)
  Work& work() { return *work_; }

 private:
  std::unique_ptr<Work> work_;
};

/// analyse() that goes on from there, where the page is the one that was decoded. `head_start` may be null.
Page analyse(const Raster& raster, const Job& job, std::optional<Side> side, double dpi,
             const StageSink& sink, HeadStart* head_start);

}  // namespace frisket
