#include "tools/review/reviewer.hpp"

#include "models/venting/vent_sections.hpp"
#include "tools/review/assumed_ends.hpp"
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
#include "tools/review/wiring_sections.hpp"

namespace steadyfire {

namespace {

using Assumed = std::vector<AssumedValue>;
Assumed joined(Assumed a, Assumed const& b) {
  a.insert(a.end(), b.begin(), b.end());
  return a;
}

ReviewPart gas_at_ends(Job const& job) { return at_both_ends(review_gas, job, assumed_gas(job)); }
ReviewPart vent_at_ends(Job const& job) {
  return at_both_ends(review_vent, job,
                      joined(assumed_in_table(job, VentSection::kind), assumed_in_pieces(job, {Role::boiler, Role::exchanger})));
}
ReviewPart pressure_at_ends(Job const& job) {
  auto const holds_water = {Role::boiler, Role::exchanger, Role::tank, Role::expansion, Role::emitter, Role::pipe};
  return at_both_ends(review_pressure, job, assumed_in_pieces(job, holds_water));
}
ReviewPart piping_at_ends(Job const& job) {
  return at_both_ends(review_piping, job, assumed_in_pieces(job, {Role::boiler, Role::circulator, Role::check}));
}
ReviewPart wiring_at_ends(Job const& job) { return at_both_ends(review_wiring, job, assumed_in_table(job, BoardSection::kind)); }

}  // namespace

std::vector<Reviewer> reviewers() {
  return {
      review_size,
      review_hot_water,
      review_simulation,
      gas_at_ends,
      vent_at_ends,
      pressure_at_ends,
      piping_at_ends,
      review_frost,
      review_start_up,
      wiring_at_ends,
      review_materials,
  };
}

}  // namespace steadyfire
