// The few colours of the figures. One hue for oxygen, grey over ochre to brick for warmth; every sequence
// falls in lightness from end to end, so that it also reads in greyscale and with colour-vision deficiency.
#pragma once

#include <array>

namespace updraught {

/// An opaque colour, each part 0..1 (sRGB).
struct Colour {
  double red = 0.0;
  double green = 0.0;
  double blue = 0.0;
  bool operator==(const Colour&) const = default;
};

/// A colour from its 24 bits, 0xRRGGBB.
constexpr Colour colour(unsigned bits) {
  return {static_cast<double>((bits >> 16U) & 0xFFU) / 255.0,
          static_cast<double>((bits >> 8U) & 0xFFU) / 255.0, static_cast<double>(bits & 0xFFU) / 255.0};
}

/// CIE lightness L*, 0 (black) to 100 (white), of an sRGB colour (IEC 61966-2-1 transfer, CIE 15 lightness).
double lightness(Colour c);

/// A mix of two colours: share 0 gives the first, 1 the second.
Colour between(Colour first, Colour second, double share);

// Our choice, all of them.
inline constexpr Colour paper = colour(0xFFFFFF);
inline constexpr Colour ink = colour(0x1F2326);
inline constexpr Colour soft_ink = colour(0x5A6166);  ///< secondary text
inline constexpr Colour faint = colour(0xC9CCCB);     ///< rules, axes' inner lines
inline constexpr Colour shade = colour(0xEFEDE6);     ///< working range, table rows
/// Walls, lid and base: darker than any band of the bed, so that a grey copy tells them from it.
inline constexpr Colour wall_fill = colour(0x2E2822);
inline constexpr Colour wall_edge = colour(0x4A4138);
inline constexpr Colour flow_line = colour(0x12202B);
inline constexpr Colour air_line = colour(0x1F5A73);   ///< curves that speak of air
inline constexpr Colour air_band = colour(0xC4DCE5);   ///< low to high of those curves
inline constexpr Colour warm_line = colour(0x9C4427);  ///< curves that speak of warmth
inline constexpr Colour warm_band = colour(0xEBD3B4);

/// Oxygen 0-1, 1-5, 5-10, 10-15, above 15 % dry: the less, the darker.
inline constexpr std::array<Colour, 5> oxygen_colours{colour(0x2F6078), colour(0x5C93AB), colour(0x8EBCCE),
                                                      colour(0xBEDAE5), colour(0xE9F3F7)};
/// Warmth below 25, 25-45, 45-55, 55-65, 65-70, above 70 degC: the warmer, the darker.
inline constexpr std::array<Colour, 6> warmth_colours{colour(0xEBEAE6), colour(0xD3CDBF), colour(0xD8B467),
                                                      colour(0xC68538), colour(0xA85030), colour(0x7A2A20)};
/// A pale to dark sequence for all other amounts (olive grey).
inline constexpr std::array<Colour, 5> amount_colours{colour(0xF0F1E6), colour(0xD5D9BD), colour(0xB0B78E),
                                                      colour(0x828C61), colour(0x525C39)};
/// What holds the microbes back, in the order of Limiting. Told apart by lightness and by hatching
/// too.
inline constexpr std::array<Colour, 7> reason_colours{colour(0xF3EBD3), colour(0x5C93AB), colour(0xC68538),
                                                      colour(0xBEDAE5), colour(0x828C61), colour(0x9A8F82),
                                                      colour(0xE2E2E0)};

}  // namespace updraught
