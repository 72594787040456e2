#include "store/content_hash.h"

#include <gtest/gtest.h>

namespace film::store {
namespace {

// Messages and digests: FIPS PUB 180-2, appendix B.1 to B.3; the empty message: NIST CAVP
// SHA256ShortMsg.rsp, Len = 0.
TEST(ContentHash, AgreesWithThePublishedExamples) {
  EXPECT_EQ(content_hash("abc"),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(content_hash("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(content_hash(std::string(1000000, 'a')),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  EXPECT_EQ(content_hash(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST(ContentHash, EveryLengthRoundABlockGivesAnotherHash) {
  std::string before;
  for (std::size_t n = 50; n < 140; ++n) {
    const std::string hash = content_hash(std::string(n, '\0'));
    EXPECT_EQ(hash.size(), 64u);
    EXPECT_NE(hash, before);
    before = hash;
  }
}

}  // namespace
}  // namespace film::store
