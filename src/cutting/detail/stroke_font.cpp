#include "cutting/detail/stroke_font.h"

#include <algorithm>
#include <array>
#include <cctype>

namespace film::cutting::detail {
namespace {

// A letter stands on a grid of 4 columns (0 to 3) and 7 rows (0 to 6, 0 the baseline); each point
// is two digits, column and row, and a blank lifts the knife.
struct Glyph {
  char letter;
  std::string_view strokes;
};
constexpr double kRows = 6;
constexpr double kColumns = 3;
constexpr double kAdvance = 4.5;  // columns from one letter to the next

constexpr std::array<Glyph, 42> kGlyphs{{
    {'A', "000416263430 0333"},
    {'B', "00062635342303 2332312000"},
    {'C', "3526160501102031"},
    {'D', "00062635312000"},
    {'E', "36060030 0323"},
    {'F', "360600 0323"},
    {'G', "35261605011020313323"},
    {'H', "0600 3630 0333"},
    {'I', "1610 0626 0020"},
    {'J', "3631201001"},
    {'K', "0600 360330"},
    {'L', "060030"},
    {'M', "000614243630"},
    {'N', "00063036"},
    {'O', "160501102031352616"},
    {'P', "00062635342303"},
    {'Q', "160501102031352616 2130"},
    {'R', "00062635342303 2330"},
    {'S', "352616050413233231201001"},
    {'T', "0626 1610"},
    {'U', "060110203136"},
    {'V', "06102036"},
    {'W', "060012223036"},
    {'X', "0630 3600"},
    {'Y', "061326 1310"},
    {'Z', "06360030"},
    {'0', "160501102031352616 0135"},
    {'1', "051610 0020"},
    {'2', "05162635340030"},
    {'3', "05162635342313 233231201001"},
    {'4', "260232 2420"},
    {'5', "360603233231201001"},
    {'6', "352616050110203132231302"},
    {'7', "063610"},
    {'8', "13040516263534231302011020313223"},
    {'9', "011020313526160504132334"},
    {'-', "0333"},
    {'_', "0030"},
    {'.', "1011"},
    {'/', "0036"},
    {'+', "0323 1412"},
    {':', "1112 1415"},
}};

}  // namespace

std::vector<Polyline> strokes_of(std::string_view text, double height) {
  const double unit = height / kRows;
  std::vector<Polyline> lines;
  double left = 0;
  for (const char c : text) {
    const char letter = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    const auto* glyph = std::find_if(kGlyphs.begin(), kGlyphs.end(),
                                     [letter](const Glyph& g) { return g.letter == letter; });
    if (glyph != kGlyphs.end()) {
      const std::string_view strokes = glyph->strokes;
      lines.emplace_back();
      for (std::size_t i = 0; i < strokes.size(); i += strokes[i] == ' ' ? 1u : 2u) {
        if (strokes[i] == ' ') {
          lines.emplace_back();
        } else {
          lines.back().push_back(unit *
                                 Vec2{left + (strokes[i] - '0'), strokes[i + 1] - 0.0 - '0'});
        }
      }
    }
    left += kAdvance;
  }
  return lines;
}

double width_of(std::string_view text, double height) {
  const double columns = kAdvance * static_cast<double>(text.size()) - (kAdvance - kColumns);
  return text.empty() ? 0 : columns * height / kRows;
}

}  // namespace film::cutting::detail
