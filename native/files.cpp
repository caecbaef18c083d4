#include "native/files.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>

namespace saltrafter::native {
namespace {

Error failure(const std::string& path, int number) {
  Error error;
  error.field = path;
  switch (number) {
    case ENOENT:
    case ENOTDIR: error.code = ErrorCode::not_found; break;
    case ENOSPC:
    case EDQUOT:
    case EFBIG: error.code = ErrorCode::storage_full; break;
    default: error.code = ErrorCode::storage_denied; break;
  }
  return error;
}

Error too_large(const std::string& path, std::size_t bytes) {
  Error error;
  error.code = ErrorCode::too_large;
  error.field = path;
  error.found = std::to_string(bytes);
  error.unit = "bytes";
  error.high = static_cast<double>(kMostBytes);
  return error;
}

// An open file that is closed whatever happens.
class Handle {
 public:
  explicit Handle(int number) : number_(number) {}
  ~Handle() {
    if (number_ >= 0) ::close(number_);
  }
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  int number() const { return number_; }
  bool open() const { return number_ >= 0; }
  bool close() {  // a disk may say only now that it is full
    const int number = number_;
    number_ = -1;
    return ::close(number) == 0;
  }

 private:
  int number_;
};

// 0, or what went wrong.
int write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t wrote = ::write(file, text.data(), text.size());
    if (wrote < 0) {
      if (errno == EINTR) continue;
      return errno;
    }
    text.remove_prefix(static_cast<std::size_t>(wrote));
  }
  return 0;
}

std::string folder_of(const std::string& path) {
  const auto slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

void flush_folder(const std::string& folder) {
  const Handle handle(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  // Some file systems refuse this; the rename stands all the same.
  if (handle.open()) (void)::fsync(handle.number());
}

std::string followed(const std::string& path) {
  char* real = ::realpath(path.c_str(), nullptr);
  if (real == nullptr) return path;
  std::string out = real;
  std::free(real);
  return out;
}

std::string environment(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string() : std::string(value);
}

std::string home() {
  const std::string named = environment("HOME");
  return named.empty() ? "." : named;
}

bool is_folder(const std::string& path) {
  struct stat info {};
  return ::stat(path.c_str(), &info) == 0 && S_ISDIR(info.st_mode);
}

}  // namespace

Result<std::string> read_file(const std::string& path) {
  const Handle file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (!file.open()) return failure(path, errno);
  struct stat info {};
  if (::fstat(file.number(), &info) != 0) return failure(path, errno);
  if (!S_ISREG(info.st_mode)) return failure(path, EACCES);
  if (static_cast<std::size_t>(info.st_size) > kMostBytes) {
    return too_large(path, static_cast<std::size_t>(info.st_size));
  }
  std::string text;
  char chunk[65536];
  for (;;) {
    const ssize_t got = ::read(file.number(), chunk, sizeof chunk);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return failure(path, errno);
    if (got == 0) return text;
    text.append(chunk, static_cast<std::size_t>(got));
    if (text.size() > kMostBytes) return too_large(path, text.size());
  }
}

Result<Done> write_file(const std::string& path, std::string_view text) {
  const std::string target = followed(path);
  const std::string folder = folder_of(target);
  const std::string passing = join_path(folder, ".new-" + std::string(base_name(target)));
  struct stat before {};
  const bool was_there = ::stat(target.c_str(), &before) == 0;
  if (was_there && !S_ISREG(before.st_mode)) return failure(path, EISDIR);
  if (was_there && ::access(target.c_str(), W_OK) != 0) return failure(path, errno);
  Handle file(::open(passing.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0644));
  if (!file.open()) return failure(path, errno);
  int number = write_all(file.number(), text);
  if (number == 0 && was_there && ::fchmod(file.number(), before.st_mode & 07777) != 0) number = errno;
  if (number == 0 && ::fsync(file.number()) != 0) number = errno;
  if (!file.close() && number == 0) number = errno;
  if (number == 0 && ::rename(passing.c_str(), target.c_str()) != 0) number = errno;
  if (number != 0) {
    ::unlink(passing.c_str());
    return failure(path, number);
  }
  flush_folder(folder);
  return Done{};
}

Result<std::vector<desk::FolderEntry>> list_folder(const std::string& folder, std::size_t most) {
  DIR* open = ::opendir(folder.c_str());
  if (open == nullptr) return failure(folder, errno);
  std::vector<desk::FolderEntry> entries;
  while (entries.size() < most) {
    const dirent* found = ::readdir(open);
    if (found == nullptr) break;
    const std::string name = found->d_name;
    if (name.empty() || name.front() == '.') continue;
    entries.push_back({name, is_folder(join_path(folder, name))});
  }
  ::closedir(open);
  std::sort(entries.begin(), entries.end(), [](const desk::FolderEntry& a, const desk::FolderEntry& b) {
    return a.folder != b.folder ? a.folder : a.name < b.name;
  });
  return entries;
}

Result<Done> make_folders(const std::string& folder) {
  for (std::size_t at = 1; at <= folder.size(); ++at) {
    if (at != folder.size() && folder[at] != '/') continue;
    const std::string part = folder.substr(0, at);
    if (::mkdir(part.c_str(), 0700) == 0) {
      flush_folder(folder_of(part));
    } else if (!is_folder(part)) {
      return failure(folder, errno == EEXIST ? EACCES : errno);
    }
  }
  return Done{};
}

std::string join_path(const std::string& folder, std::string_view name) {
  std::string out = folder;
  if (!out.empty() && out.back() != '/') out += '/';
  return out.append(name);
}

std::string_view base_name(std::string_view path) {
  const auto slash = path.rfind('/');
  return slash == std::string_view::npos ? path : path.substr(slash + 1);
}

std::string default_data_folder() {
  // The standard wants an absolute path and any other one ignored.
  const std::string named = environment("XDG_DATA_HOME");
  if (!named.empty() && named.front() == '/') return join_path(named, "saltrafter");
  return join_path(home(), ".local/share/saltrafter");
}

std::string default_start_folder() {
  const std::string documents = join_path(home(), "Documents");
  return is_folder(documents) ? documents : home();
}

Result<std::string> make_passing_folder() {
  std::string base = environment("TMPDIR");
  if (base.empty()) base = "/tmp";
  std::string name = join_path(base, "saltrafter-XXXXXX");
  if (::mkdtemp(name.data()) == nullptr) return failure(base, errno);
  return name;
}

void remove_folder(const std::string& folder) {
  std::error_code ignored;
  std::filesystem::remove_all(folder, ignored);
}

}  // namespace saltrafter::native
