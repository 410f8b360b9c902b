#include "sim/scenario/trade_words.hpp"

#include <algorithm>
#include <cctype>

#include "sim/scenario/value_reader.hpp"

namespace steadyfire {
namespace {

/// What is said, each between bars, and what it is called here. The same word may stand in several lines: who asks knows which fits.
struct Meant { std::string_view said, ours; };
constexpr Meant table[]{
    // how the boiler joins the zones
    {"|primary secondary|primary and secondary|ps|p s|tees|close tees|closely spaced tee|", "closely spaced tees"},
    {"|hydro separator|hydroseparator|hydraulic sep|hydro sep|low loss header|llh|decoupler|separator|", "hydraulic separator"},
    {"|buffer|buffer vessel|tank|storage tank|thermal storage|", "buffer tank"},
    {"|straight in|straight through|straight|direct piped|series|in series|one loop|", "direct"},
    {"|heat exchanger|plate|plates|plate heat exchanger|flat plate|hx|exchanger|", "plate exchanger"},
    {"|home run|home runs|", "manifold"},
    {"|one pipe|diverter tees|", "single pipe"},
    // emitters
    {"|baseboard|fin tube|fintube|finned tube|copper fin|bb|hydronic baseboard|baseboard radiator|", "fin-tube baseboard"},
    {"|radiant|radiant floor|radiant heat|floor|floor heat|in floor|infloor|in floor heat|underfloor|", "radiant slab"},
    {"|slab|concrete slab|concrete|tubing|pex|", "radiant slab"},
    {"|staple up|radiant ceiling|ceiling|radiant wall|", "radiant panel"},
    {"|panel rad|radiator|rad|steel panel|flat panel|wall radiator|", "panel radiator"},
    {"|cast iron|cast iron radiator|cast iron rad|ci radiator|standing radiator|old radiator|", "column radiator"},
    {"|towel bar|towel rack|towel rail|", "towel warmer"},
    {"|fan coil|hydro air|hydroair|ahu|coil|hot water coil|hydronic coil|", "air handler"},
    {"|toe kick|toe kick heater|toekick|kick space|kickspace|kick space heater|kickspace heater|", "kick-space convector"},
    {"|shop heater|garage heater|hanging heater|", "unit heater"},
    {"|indirect|indirect water heater|indirect heater|iwh|", "indirect tank"},
    {"|snow melt|snowmelt|driveway|", "snow-melt slab"},
    // parts
    {"|pump|circ|circ pump|circulating pump|zone pump|booster|", "circulator"},
    {"|pump|system pump|secondary pump|", "system_circulator"},
    {"|zone control valve|motorized valve|valve|zv|", "zone valve"},
    {"|mixer|mixing valve|3 way valve|three way valve|motorized mixing valve|3 way|", "motorised mixing valve"},
    {"|tempering valve|thermostatic valve|mixing valve|", "thermostatic mixing valve"},
    {"|injection|injection pump|injection mixing|variable speed injection|", "injection circulator"},
    {"|mixing valve|mixer|tempering valve|three way valve|3 way valve|", "mixing"},
    {"|trv|thermostatic radiator valve|", "radiator valve"},
    {"|tstat|t stat|stat|", "thermostat"},
    {"|odr|outdoor reset|reset curve|heating curve|curve|", "reset"},
    {"|bypass|pressure bypass|differential bypass|pabv|", "bypass valve"},
    {"|flow check|flo check|spring check|", "check valve"},
    {"|flow setter|circuit setter|balancing valve|", "balancing_cv"},
    {"|y strainer|filter|", "strainer"},
    {"|ball valve|gate valve|globe valve|", "valve"},
    {"|air scoop|air eliminator|microbubble separator|", "air separator"},
    {"|magnetic filter|magnetic separator|", "dirt separator"},
    {"|expansion vessel|bladder tank|diaphragm tank|compression tank|", "expansion tank"},
    // circulators
    {"|delta t|dt|", "temperature difference"},
    {"|delta p|constant pressure|dp|", "constant head"},
    {"|proportional pressure|", "proportional head"},
    {"|constant speed|single speed|", "fixed speed"},
    {"|constant flow|", "fixed flow"},
    // fuel and fluid
    {"|gas|nat gas|ng|natural|methane|", "natural gas"},
    {"|lp|lpg|lp gas|bottled gas|", "propane"},
    {"|glycol|antifreeze|pg|", "propylene glycol"},
    // houses
    {"|old|leaky|drafty|poor|uninsulated|", "old and leaky"},
    {"|new|tight|good|well insulated|", "new and tight"},
    {"|normal|typical|medium|", "average"},
    // tables
    {"|burner|appliance|combi|combi boiler|heater|", "boiler"},
    {"|second boiler|cascade|lag|", "lag boiler"},
    {"|piping|near boiler piping|mains|primary loop|boiler loop|", "near boiler"},
    {"|manifold|header|distribution|", "headers"},
    {"|room|loop|circuit|area|", "zone"},
    {"|dhw|domestic hot water|water heater|potable|", "hot water"},
    {"|faucet|fixture|shower|sink|tub|bath|", "tap"},
    {"|location|climate|weather|design|", "site"},
    {"|control|outdoor reset|reset|", "controls"},
    {"|simulation|simulate|time|", "run"},
    {"|flue|venting|chimney|exhaust|", "vent"},
    {"|gas line|gas piping|gas run|", "gas pipe"},
    {"|stove|range|dryer|furnace|fireplace|gas fireplace|", "gas appliance"},
    {"|antifreeze|glycol|water|", "fluid"},
    {"|relief|relief valve|lwco|low water cutoff|", "safety"},
    {"|wiring|zone controller|panel|zone panel|", "board"},
    // keys
    {"|heat loss|load|btu|btuh|btu h|heat load|design heat loss|", "design_load"},
    {"|area|sq ft|sqft|square feet|square footage|size|", "floor_area"},
    {"|water temp|supply temp|supply|swt|water temperature|", "supply_temperature"},
    {"|delta t|dt|drop|temperature drop|", "design_drop"},
    {"|pipe|pipe size|diameter|tubing|", "size"},
    {"|max input|maximum input|input|rating|btu|btuh|size|mbh|", "heating_input"},
    {"|min input|low fire|min fire|minimum fire|turndown|", "minimum_input"},
    {"|design temp|design temperature|outdoor temp|outdoor temperature|outdoor design temperature|outside design|odt|", "outdoor_design"},
    {"|indoor temp|room temp|room temperature|", "indoor_design"},
    {"|setpoint|set|setting|temperature|", "set_point"},
    {"|set point|setpoint|set|temperature|", "setting"},
    {"|emitter type|heat emitter|terminal unit|radiation|radiator|", "emitter"},
    {"|piping|type|", "arrangement"},
};

std::string plain(std::string_view word) {
  std::string s;
  for (char c : word) {
    bool const gap = c == '_' || c == '-' || c == '/' || c == '&' || c == ' ';
    if (!gap) s += char(std::tolower(static_cast<unsigned char>(c)));
    else if (!s.empty() && s.back() != ' ') s += ' ';
  }
  if (!s.empty() && s.back() == ' ') s.pop_back();
  return s;
}

}  // namespace

std::string meant_by(std::string_view word, std::vector<std::string> const& known) {
  auto said = plain(word);
  if (said.empty() || said.find('|') != said.npos) return "";
  bool const plural = said.size() > 3 && said.back() == 's';
  auto const one = plural ? said.substr(0, said.size() - 1) : said;
  for (auto const& line : table) {
    if (line.said.find("|" + said + "|") == line.said.npos && line.said.find("|" + one + "|") == line.said.npos) continue;
    auto const many = std::string(line.ours) + "s";
    auto const it = std::find_if(known.begin(), known.end(), [&](auto const& k) { return same_word(k, line.ours) || same_word(k, many); });
    if (it != known.end() && !same_word(*it, word)) return *it;
  }
  return "";
}

}  // namespace steadyfire
