#include "acceptance/program.hpp"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <thread>

namespace frisket {
namespace {

constexpr double page_dpi = 300;

void redirect(const std::filesystem::path& file, int descriptor) {
  const int opened = open(file.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  dup2(opened, descriptor);
  close(opened);
}

[[noreturn]] void become(const std::filesystem::path& folder, const std::vector<std::string>& command,
                         const ScratchFolder& streams) {
  redirect(streams / "out", STDOUT_FILENO);
  redirect(streams / "err", STDERR_FILENO);
  if (chdir(folder.c_str()) != 0) _exit(126);
  setenv("FRISKET", FRISKET_PROGRAM, 1);
  std::vector<char*> words;
  for (const std::string& word : command) words.push_back(const_cast<char*>(word.c_str()));
  words.push_back(nullptr);
  execv(words[0], words.data());
  _exit(127);
}

void interrupt_once_there(pid_t child, const std::filesystem::path& file) {
  for (int tries = 0; tries < 6000 && !std::filesystem::exists(file); ++tries)
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  kill(child, SIGINT);
}

Ran run(const std::filesystem::path& folder, const std::vector<std::string>& command,
        const std::filesystem::path& interrupt_at) {
  const ScratchFolder streams;
  const pid_t child = fork();
  if (child == 0) become(folder, command, streams);
  if (!interrupt_at.empty()) interrupt_once_there(child, interrupt_at);
  int status = 0;
  waitpid(child, &status, 0);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), content_of(streams / "out"),
          content_of(streams / "err")};
}

}  // namespace

Ran run_frisket(const std::filesystem::path& folder, const std::vector<std::string>& arguments,
                const std::filesystem::path& interrupt_at) {
  std::vector<std::string> command{FRISKET_PROGRAM};
  command.insert(command.end(), arguments.begin(), arguments.end());
  return run(folder, command, interrupt_at);
}

Ran run_shell(const std::filesystem::path& folder, const std::string& line) {
  return run(folder, {"/bin/sh", "-c", line}, {});
}

std::vector<std::string> with_job(std::vector<std::string> command, const std::vector<std::string>& more) {
  command.insert(command.end(), small_job.begin(), small_job.end());
  command.insert(command.end(), more.begin(), more.end());
  return command;
}

vips::VImage small_page(const std::vector<Rect>& black_boxes) {
  const auto px = [](Length length) { return static_cast<int>(std::lround(length.pixels(page_dpi))); };
  const Length bleed = Length::from_mm(3);
  const vips::VImage white = vips::VImage::black(px(Length::from_mm(66)), px(Length::from_mm(46)),
                                                 vips::VImage::option()->set("bands", 3)) +
                             255;
  vips::VImage page = white.cast(VIPS_FORMAT_UCHAR)
                          .copy(vips::VImage::option()
                                    ->set("interpretation", VIPS_INTERPRETATION_sRGB)
                                    ->set("xres", page_dpi / 25.4)
                                    ->set("yres", page_dpi / 25.4))
                          .copy_memory();
  for (const Rect& box : black_boxes)
    page.draw_rect({0, 0, 0}, px(box.x + bleed), px(box.y + bleed), px(box.width), px(box.height),
                   vips::VImage::option()->set("fill", true));
  return page;
}

void save_png(const vips::VImage& page, const std::filesystem::path& file) {
  // Written to memory first: libvips reads '[' in a file name as the start of options.
  VipsBlob* blob = page.pngsave_buffer();
  std::size_t size = 0;
  const auto* bytes = static_cast<const char*>(vips_blob_get(blob, &size));
  put(file, std::string(bytes, size));
  vips_area_unref(VIPS_AREA(blob));
}

int validate_file(const std::string& schema, const std::filesystem::path& document) {
  const std::string root = FRISKET_SOURCE_DIR;
  const std::string command = root + "/tools/validate_json " + root + "/src/schemas/" + schema +
                              ".schema.json '" + document.string() + "'";
  return std::system(command.c_str());
}

}  // namespace frisket
