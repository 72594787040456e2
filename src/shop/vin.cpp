#include "shop/vin.h"

#include <array>
#include <cctype>

#include "base/text.h"

namespace film::shop {
namespace {

constexpr std::size_t kLength = 17;
constexpr std::size_t kCheckPlace = 8;  // position 9

/// Table III: the value of a character; letters I, O and Q have none.
int value_of(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  //                            ABCDEFGHIJKLMNOPQRSTUVWXYZ
  constexpr std::string_view kValues = "12345678.12345.7.923456789";
  return kValues[static_cast<std::size_t>(c - 'A')] - '0';
}

/// Table IV: the weight of each position; position 9 itself counts nothing.
constexpr std::array<int, kLength> kWeights{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2};

}  // namespace

Result<std::string> read_vin(std::string_view text) {
  std::string vin;
  for (const char c : text) {
    if (c == ' ' || c == '-') continue;
    const char raised = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    const bool known = (raised >= '0' && raised <= '9') || (raised >= 'A' && raised <= 'Z');
    if (!known || raised == 'I' || raised == 'O' || raised == 'Q') {
      return fail(ErrorCode::invalid_input,
                  format("position {} cannot be '{}'", vin.size() + 1, known ? raised : '?'), "vin",
                  "A VIN has no I, O or Q: it may be a 1 or a 0.");
    }
    vin += raised;
  }
  if (vin.size() != kLength) {
    return fail(ErrorCode::invalid_input,
                format("a VIN has 17 characters, this has {}", vin.size()), "vin",
                "Copy it from the windscreen or the papers again.");
  }
  return vin;
}

char vin_check_digit(std::string_view vin) {
  int sum = 0;
  for (std::size_t i = 0; i < kLength; ++i) sum += value_of(vin[i]) * kWeights[i];
  return "0123456789X"[sum % 11];
}

bool is_north_american(std::string_view vin) { return vin.front() >= '1' && vin.front() <= '5'; }

Result<void> check_vin_digit(std::string_view vin) {
  const char expected = vin_check_digit(vin);
  if (vin[kCheckPlace] == expected) return {};
  return fail(
      ErrorCode::invalid_input,
      format("position 9 is '{}', but the other characters ask for '{}'", vin[kCheckPlace],
             expected),
      "vin",
      is_north_american(vin)
          ? "One character is wrong: compare them with the vehicle. If they are right, give "
            "the reason for keeping it."
          : "The vehicle was not built for North America, where the rule binds: if the "
            "characters are right, give that as the reason.");
}

}  // namespace film::shop
