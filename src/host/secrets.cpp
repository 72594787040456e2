#include "host/secrets.h"

#include <array>
#include <cstdlib>
#include <mutex>
#include <new>

#include <sodium.h>

namespace film::host {
namespace {

/// The library is ready once this returns; without randomness nothing here may go on.
void be_ready() {
  static const int kState = sodium_init();
  if (kState < 0) std::abort();
}

// Each takes 64 MiB: a crowd at the door must not take the whole memory.
class Turn {
 public:
  Turn() : lock_(mutexes()[next()]) {}

 private:
  static std::array<std::mutex, 2>& mutexes() {
    static std::array<std::mutex, 2> all;
    return all;
  }
  static std::size_t next() {
    static std::mutex mutex;
    static std::size_t turn = 0;
    const std::lock_guard lock(mutex);
    return ++turn % 2;
  }

  std::lock_guard<std::mutex> lock_;
};

}  // namespace

std::string random_token() {
  be_ready();
  std::array<unsigned char, 32> bytes{};
  randombytes_buf(bytes.data(), bytes.size());
  constexpr int kForm = sodium_base64_VARIANT_URLSAFE_NO_PADDING;
  std::string text(sodium_base64_ENCODED_LEN(32, kForm), '\0');
  sodium_bin2base64(text.data(), text.size(), bytes.data(), bytes.size(), kForm);
  text.pop_back();  // the zero byte that ends it
  return text;
}

std::string token_digest(std::string_view token) {
  be_ready();
  std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
  crypto_hash_sha256(digest.data(), reinterpret_cast<const unsigned char*>(token.data()),
                     token.size());
  std::string text(2 * digest.size() + 1, '\0');
  sodium_bin2hex(text.data(), text.size(), digest.data(), digest.size());
  text.pop_back();
  return text;
}

std::string hash_password(std::string_view password) {
  be_ready();
  const Turn turn;
  std::array<char, crypto_pwhash_STRBYTES> hash{};
  if (crypto_pwhash_str_alg(hash.data(), password.data(), password.size(),
                            crypto_pwhash_OPSLIMIT_INTERACTIVE, crypto_pwhash_MEMLIMIT_INTERACTIVE,
                            crypto_pwhash_ALG_ARGON2ID13) != 0) {
    throw std::bad_alloc();
  }
  return hash.data();
}

bool is_password(std::string_view password, const std::string& hash) {
  be_ready();
  const Turn turn;
  return crypto_pwhash_str_verify(hash.c_str(), password.data(), password.size()) == 0;
}

bool refuse_password(std::string_view password) {
  static const std::string kNobodys = hash_password(random_token());
  (void)is_password(password, kNobodys);
  return false;
}

bool is_same_secret(std::string_view a, std::string_view b) {
  return a.size() == b.size() && sodium_memcmp(a.data(), b.data(), a.size()) == 0;
}

}  // namespace film::host
