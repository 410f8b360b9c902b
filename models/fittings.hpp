#pragma once
/// Losses of fittings and valves by name, from sources that disagree.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "models/friction.hpp"

namespace steadyfire {

/// Whose numbers. For the same elbow they differ by a factor of two to three, as nature
/// does between a threaded and a soldered joint: the caller chooses.
enum class FittingSource {
  screwed,            ///< threaded iron: a pump handbook (2006), tables 3.7 to 3.11
  equivalent_length,  ///< soldered copper: 77 Ill. Adm. Code 890, appendix A, table Q
};

/// Loss coefficient K of a fitting, Δp = K·ρ·v²/2; nothing where the source has no value.
///
///   screwed: K by size;  equivalent length: K = f·L/D
///
/// Shape   fitting as in `fitting_names`; nominal as in `nominal_sizes`; f and D [m] of the
///         pipe it sits in, used by equivalent length alone.
/// Errors  30 % within a source, a factor of 2 to 3 between sources.
std::optional<double> fitting_k(FittingSource, std::string_view fitting, std::string_view nominal, double friction_factor, double diameter);

/// The same by the bore [m] alone: the nominal size of the nearest bore of copper M, and the
/// friction factor of drawn tube at Re 30 000, where design flows lie (±20 % in f at half and double).
std::optional<double> fitting_k(FittingSource, std::string_view fitting, double diameter);

/// Every fitting that a source knows in some size.
std::vector<std::string> fitting_names(FittingSource);

inline constexpr double kv_per_cv = 0.864978;  ///< (m³/h at 1 bar) per (US gpm at 1 psi)
/// The Kv of a table that states one of the two; Kv goes first.
inline double kv_from(double cv, double kv) { return std::isnan(kv) ? kv_per_cv * cv : kv; }

/// Pressure loss of a valve [Pa], by its Kv [m³/h at 1 bar].
///
///   Q = Kv·√(Δp/SG),  SG = ρ/(999 kg/m³), water of 15 °C or 60 °F
///
/// Shape   odd in the mass flow [kg/s]; value and slope vanish at zero flow.
/// Valid   turbulent, no cavitation.
/// Source  ANSI/ISA-75.01.01 (IEC 60534-2-1), without its corrections.
template <class N>
N kv_loss(N mass_flow, double kv, Fluid const& fluid) {
  double const per_second = kv / 3600;
  return 1e5 / (999 * fluid.density * per_second * per_second) * square_with_sign(mass_flow);
}

/// The same by the Cv [US gpm at 1 psi].
template <class N>
N cv_to_loss(N mass_flow, double cv, Fluid const& fluid) { return kv_loss(mass_flow, kv_per_cv * cv, fluid); }

}  // namespace steadyfire
