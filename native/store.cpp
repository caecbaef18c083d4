#include "native/store.h"

#include "native/files.h"

namespace saltrafter::native {
namespace {

constexpr std::string_view kEnding = ".slot";

bool plain(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '_'; }

int digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  return c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
}

}  // namespace

// Capitals are written out too: a file system may take two cases for one name.
std::string file_of_key(const std::string& key) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  for (const char c : key) {
    if (plain(c)) {
      out += c;
      continue;
    }
    const auto byte = static_cast<unsigned char>(c);
    out += '%';
    out += digits[byte >> 4U];
    out += digits[byte & 15U];
  }
  return out.append(kEnding);
}

std::string key_of_file(const std::string& file) {
  if (file.size() <= kEnding.size() || file.substr(file.size() - kEnding.size()) != kEnding) return {};
  const std::string name = file.substr(0, file.size() - kEnding.size());
  std::string key;
  for (std::size_t i = 0; i < name.size(); ++i) {
    if (plain(name[i])) {
      key += name[i];
      continue;
    }
    if (name[i] != '%' || i + 2 >= name.size()) return {};
    const int high = digit(name[i + 1]);
    const int low = digit(name[i + 2]);
    if (high < 0 || low < 0) return {};
    key += static_cast<char>(high * 16 + low);
    i += 2;
  }
  return file_of_key(key) == file ? key : std::string();
}

book::FirstStore folder_store(std::string folder) {
  book::FirstStore store;
  store.keys = [folder] {
    std::vector<std::string> keys;
    const auto entries = list_folder(folder, static_cast<std::size_t>(-1));
    if (!entries.ok()) return keys;
    for (const desk::FolderEntry& entry : entries.value()) {
      if (entry.folder) continue;
      std::string key = key_of_file(entry.name);
      if (!key.empty()) keys.push_back(std::move(key));
    }
    return keys;
  };
  store.get = [folder](const std::string& key) -> std::optional<std::string> {
    Result<std::string> text = read_file(join_path(folder, file_of_key(key)));
    if (!text.ok()) return std::nullopt;
    return std::move(text).value();
  };
  store.set = [folder](const std::string& key, const std::string& text) {
    const std::string path = join_path(folder, file_of_key(key));
    Result<Done> done = write_file(path, text);
    if (!done.ok() && done.error().code == ErrorCode::not_found) {
      done = make_folders(folder);
      if (done.ok()) done = write_file(path, text);
    }
    if (done.ok()) return book::Stored::ok;
    return done.error().code == ErrorCode::storage_full ? book::Stored::full : book::Stored::denied;
  };
  return store;
}

}  // namespace saltrafter::native
