// Each case is a mistake that the dimension types must refuse. Case 0 is the same code done right: it must compile, so
// that the others cannot fail for an unrelated reason.
#include "units/range.h"

using namespace trivet;

const Voltage voltage{24};
const Current current{2};
const Temperature warm = celsius(75);
const TemperatureDifference step{2};

#if CASE == 0
const auto right = voltage * current + Power{1};
const bool hotter = warm + step > warm;
#elif CASE == 1
const auto wrong = voltage + current; // volt plus ampere
#elif CASE == 2
const auto wrong = warm + warm; // two places on the temperature scale cannot be added
#elif CASE == 3
const auto wrong = 2.0 * warm; // twice 75 °C has no meaning
#elif CASE == 4
const bool wrong = voltage < current; // comparing unlike things
#elif CASE == 5
const Voltage wrong = current; // assigning unlike things
#elif CASE == 6
const auto wrong = step - warm; // a difference minus a place
#elif CASE == 7
const bool wrong = warm > step; // a place compared with a difference
#elif CASE == 8
const double wrong = voltage; // dropping the unit silently
#elif CASE == 9
const auto wrong = -warm; // minus 75 °C is not the negative of a place in kelvin
#elif CASE == 10
const auto wrong = joined(exactly(voltage), exactly(current)); // a range of unlike things
#elif CASE == 11
const auto wrong = warm * step; // a product with a place on the scale
#else
#error "no such case"
#endif
