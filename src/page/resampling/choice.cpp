#include "page/resampling/choice.hpp"

#include <algorithm>
#include <cmath>

#include "page/resampling/weights.hpp"

namespace frisket {
namespace {

constexpr double most_ratio = 1.55;    // of the axes: pictures are hardly ever stretched by more
constexpr double same_factor = 0.012;  // guesses of one factor: whole pixels make the axes differ a little
constexpr double near_factor = 0.1;
constexpr double same_answer = 0.03;

double apart(double a, double b) { return std::abs(std::log(a / b)); }

/// The odds of each pair against 'none'; 0 where the axes differ by too much.
class Pairs {
 public:
  explicit Pairs(const std::vector<Guess>& guesses) : guesses_(guesses), count_(guesses.size()) {
    const std::vector<double> x = speaks_for(guesses, &Guess::x), y = speaks_for(guesses, &Guess::y);
    const UnequalCost cost = unequal_cost();
    for (std::size_t i = 0; i < count_; ++i)
      for (std::size_t k = 0; k < count_; ++k) {
        const double ratio = apart(guesses[i].factor, guesses[k].factor);
        const double odds = x[i] + y[k] + (ratio < same_factor ? 0.0 : cost.any) +
                            (ratio >= same_factor && ratio < near_factor ? cost.small : 0.0);
        odds_.push_back(ratio < std::log(most_ratio) ? std::exp(std::clamp(odds, -60.0, 60.0)) : 0.0);
        sum_ += odds_.back();
      }
  }

  Choice likeliest() const {
    const auto at = static_cast<std::size_t>(std::ranges::max_element(odds_) - odds_.begin());
    const Guess &first = guesses_[at / count_], &second = guesses_[at % count_];
    Choice choice{first.factor, second.factor, 0.0, 1.0 / sum_,
                  first.x.fit.dip < second.y.fit.dip ? first.x.fit.kernel : second.y.fit.kernel};
    for (std::size_t i = 0; i < count_; ++i)
      for (std::size_t k = 0; k < count_; ++k)
        if (apart(guesses_[i].factor, choice.x) < same_answer &&
            apart(guesses_[k].factor, choice.y) < same_answer)
          choice.probability += odds_[i * count_ + k] / sum_;
    return choice;
  }

 private:
  const std::vector<Guess>& guesses_;
  std::size_t count_;
  std::vector<double> odds_;
  double sum_ = 1.0;  ///< of all odds, and of 'none', which is 1
};

}  // namespace

Choice choose(const std::vector<Guess>& guesses) {
  return guesses.empty() ? Choice{} : Pairs(guesses).likeliest();
}

}  // namespace frisket
