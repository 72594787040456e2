#include "host/secrets.h"

#include <set>

#include <gtest/gtest.h>

namespace film::host {
namespace {

TEST(Secrets, TokensAreLongAndNeverTheSame) {
  std::set<std::string> seen;
  for (int i = 0; i < 1000; ++i) {
    const std::string token = random_token();
    EXPECT_EQ(token.size(), 43u);  // 256 bits in base 64
    EXPECT_EQ(token.find_first_of("+/= "), std::string::npos);
    EXPECT_TRUE(seen.insert(token).second);
  }
}

// FIPS 180-4, example of one block: "abc".
TEST(Secrets, TheDigestIsSha256) {
  EXPECT_EQ(token_digest("abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

// RFC 9106 names the variant; libsodium's interactive parameters are two passes over 64 MiB.
TEST(Secrets, PasswordsAreHashedByArgon2id) {
  const std::string hash = hash_password("nine hats");
  EXPECT_EQ(hash.rfind("$argon2id$v=19$m=65536,t=2,p=1$", 0), 0u) << hash;
  EXPECT_NE(hash, hash_password("nine hats"));  // salted
  EXPECT_TRUE(is_password("nine hats", hash));
  EXPECT_FALSE(is_password("nine hat", hash));
  EXPECT_FALSE(is_password("nine hats", "damaged"));
  EXPECT_FALSE(refuse_password("nine hats"));
}

TEST(Secrets, SecretsAreComparedWhole) {
  EXPECT_TRUE(is_same_secret("abc", "abc"));
  EXPECT_FALSE(is_same_secret("abc", "abd"));
  EXPECT_FALSE(is_same_secret("abc", "ab"));
  EXPECT_TRUE(is_same_secret("", ""));
}

}  // namespace
}  // namespace film::host
