#include "tools/review/reviewer.hpp"

#include "tools/review/frost_review.hpp"
#include "tools/review/gas_review.hpp"
#include "tools/review/hot_water_review.hpp"
#include "tools/review/materials.hpp"
#include "tools/review/piping_review.hpp"
#include "tools/review/pressure_review.hpp"
#include "tools/review/simulation_review.hpp"
#include "tools/review/size_review.hpp"
#include "tools/review/start_up_review.hpp"
#include "tools/review/vent_review.hpp"
#include "tools/review/wiring_review.hpp"

namespace steadyfire {

std::vector<Reviewer> reviewers() {
  return {
      review_size,
      review_hot_water,
      review_simulation,
      review_gas,
      review_vent,
      review_pressure,
      review_piping,
      review_frost,
      review_start_up,
      review_wiring,
      review_materials,
  };
}

}  // namespace steadyfire
