#pragma once

#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace frisket {

/// Millimetres in an inch: exact by the international yard and pound agreement of 1959.
inline constexpr double mm_per_inch = 25.4;
/// Points in an inch: the default user space unit of ISO 32000-1, 8.3.2.3 (1 pt = 1/72 in).
inline constexpr double points_per_inch = 72.0;

/// A length on paper. Kept in millimetres as a double; may be negative (a position left of the trim).
class Length {
 public:
  constexpr Length() = default;
  static constexpr Length from_mm(double mm) { return Length(mm); }
  static constexpr Length from_inches(double in) { return Length(in * mm_per_inch); }
  static constexpr Length from_points(double pt) { return Length(pt / points_per_inch * mm_per_inch); }

  constexpr double mm() const { return mm_; }
  constexpr double inches() const { return mm_ / mm_per_inch; }
  constexpr double points() const { return mm_ / mm_per_inch * points_per_inch; }
  /// Length in pixels of a raster at `dpi` dots per inch.
  constexpr double pixels(double dpi) const { return mm_ / mm_per_inch * dpi; }

  constexpr auto operator<=>(const Length&) const = default;
  constexpr Length operator-() const { return Length(-mm_); }
  constexpr Length& operator+=(Length other) { return mm_ += other.mm_, *this; }
  constexpr Length& operator-=(Length other) { return mm_ -= other.mm_, *this; }
  friend constexpr Length operator+(Length a, Length b) { return Length(a.mm_ + b.mm_); }
  friend constexpr Length operator-(Length a, Length b) { return Length(a.mm_ - b.mm_); }
  friend constexpr Length operator*(Length a, double f) { return Length(a.mm_ * f); }
  friend constexpr Length operator*(double f, Length a) { return Length(a.mm_ * f); }
  friend constexpr Length operator/(Length a, double f) { return Length(a.mm_ / f); }
  friend constexpr double operator/(Length a, Length b) { return a.mm_ / b.mm_; }

 private:
  constexpr explicit Length(double mm) : mm_(mm) {}
  double mm_ = 0.0;
};

/// Distance without its sign.
constexpr Length abs(Length length) { return length < Length() ? -length : length; }

namespace literals {
constexpr Length operator""_mm(long double v) { return Length::from_mm(static_cast<double>(v)); }
constexpr Length operator""_mm(unsigned long long v) { return Length::from_mm(static_cast<double>(v)); }
constexpr Length operator""_in(long double v) { return Length::from_inches(static_cast<double>(v)); }
constexpr Length operator""_in(unsigned long long v) { return Length::from_inches(static_cast<double>(v)); }
constexpr Length operator""_pt(long double v) { return Length::from_points(static_cast<double>(v)); }
constexpr Length operator""_pt(unsigned long long v) { return Length::from_points(static_cast<double>(v)); }
}  // namespace literals

/// The units a ticket or a flag may use.
enum class Unit { millimetre, centimetre, inch, point };

/// "mm", "cm", "in" or "pt".
std::string_view unit_name(Unit unit);
/// The unit called `name` ("mm", "cm", "in", "pt"). Throws Error that lists the names otherwise.
Unit parse_unit(std::string_view name);
/// A value in `unit` as a length.
Length make_length(double value, Unit unit);
/// A length as a value in `unit`.
double in_unit(Length length, Unit unit);

/// Reads "11in", "279.4 mm", "9pt", "27.94cm", or a bare number in `bare`. Must be finite and the whole of
/// `text`. Throws Error that quotes the text and shows an example otherwise.
Length parse_length(std::string_view text, Unit bare);

/// A length for people, with its unit: two decimals in inches and millimetres below 100, one decimal in
/// points, no trailing zeros beyond the first decimal: "0.07 in", "215.9 mm", "4.3 pt".
std::string to_text(Length length, Unit unit);
/// A length in full, for numbers that are to be typed in: to 0.00001 in (1/32 in needs five decimals),
/// 0.0001 mm, 0.00001 cm or 0.001 pt, without trailing zeros: "3.6875 in", "100 mm".
std::string to_exact_text(Length length, Unit unit);
/// Inches as a folding rule shows them: "3 11/16", "1/8", "11". Empty where `length` is not a whole number of
/// 1/32 in, give or take 0.00001 in, or is negative.
std::optional<std::string> to_inch_fraction(Length length);

}  // namespace frisket
